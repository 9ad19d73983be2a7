"""The cascade: scikit-rf for uneven lines, passivity, reciprocity, power."""

from dataclasses import replace

import numpy as np
import pytest
import skrf
from numpy.typing import NDArray
from skrf.media import DefinedGammaZ0

from sweepbook_demo.cascade import Run, chain, scattering
from sweepbook_demo.line import propagation
from sweepbook_demo.main_house import LINKS
from sweepbook_demo.parts import JACK_6A, WEFT_6A
from sweepbook_demo.plan import channel
from sweepbook_demo.plant import CablePiece, ConnectorPiece, Piece, cable_run, connector_run, solve

LOSSLESS = replace(WEFT_6A, sqrt_db=0.0, linear_db=0.0)
F = np.geomspace(1.0, 500.0, 40)
Complex = NDArray[np.complex128]


def _uncoupled(run: Run) -> Run:
    zero = np.zeros_like(run.inductance_h)
    return replace(run, inductance_h=zero, capacitance_f=zero)


def test_uneven_sections_and_connectors_agree_with_scikit_rf() -> None:
    pieces = [JACK_6A, CablePiece(WEFT_6A, 4.0), JACK_6A]
    runs = [
        _uncoupled(connector_run(JACK_6A, F, 5)),
        _uncoupled(cable_run(CablePiece(WEFT_6A, 4.0), F, 6)),
        _uncoupled(connector_run(JACK_6A, F, 7)),
    ]
    assert len(runs) == len(pieces)
    ours = scattering(chain(runs, F))
    frequency = skrf.Frequency.from_f(F, unit="MHz")
    pair = 2
    parts = []
    for run in runs:
        for factor in run.factor[:, pair]:
            medium = DefinedGammaZ0(
                frequency,
                gamma=run.gamma[pair],
                z0=run.impedance_ohm[pair] * factor,
                z0_port=100,
            )
            parts.append(medium.line(run.length_m, "m"))
    theirs = skrf.network.cascade_list(parts).s
    assert ours.s11[:, pair, pair] == pytest.approx(theirs[:, 0, 0], abs=1e-9)
    assert ours.s21[:, pair, pair] == pytest.approx(theirs[:, 1, 0], abs=1e-9)
    assert ours.s22[:, pair, pair] == pytest.approx(theirs[:, 1, 1], abs=1e-9)


def _links() -> list[tuple[Piece, ...]]:
    by_label = {link.facts["label"]: link.pieces for link in LINKS}
    crushed, untwisted = by_label["1A-P1-04"], by_label["1A-P1-03"]
    return [crushed, untwisted, channel(5.0, 12.0, 3.0)]


@pytest.mark.parametrize("pieces", _links())
def test_links_with_faults_are_passive_and_reciprocal(pieces: tuple[Piece, ...]) -> None:
    """No singular value of S above 1; S equals its transpose (Pozar, chapter 4, from memory)."""
    whole = solve(pieces, F, seed=77).whole()
    assert np.linalg.svd(whole, compute_uv=False).max() <= 1.0 + 1e-9
    assert whole == pytest.approx(whole.transpose(0, 2, 1), abs=1e-10)


def test_power_out_never_exceeds_power_in_for_any_drive() -> None:
    whole = solve(_links()[0], F, seed=78).whole()
    random = np.random.default_rng(1)
    drive = random.normal(size=(F.size, 8, 20)) + 1j * random.normal(size=(F.size, 8, 20))
    power_in = (np.abs(drive) ** 2).sum(axis=1)
    power_out = (np.abs(whole @ drive) ** 2).sum(axis=1)
    assert (power_out <= power_in).all()
    # A link loses something, so this is no test that cannot fail.
    assert (power_out < 0.999 * power_in).any()


def test_without_loss_all_power_comes_out_again() -> None:
    whole = solve([CablePiece(LOSSLESS, 20.0)], F, seed=3).whole()
    unit = np.einsum("fij,fkj->fik", whole, whole.conj())
    assert unit == pytest.approx(np.broadcast_to(np.eye(8), unit.shape), abs=1e-9)


def test_a_lumped_coupling_is_that_of_weak_coupling_theory() -> None:
    """j*omega*n backwards and j*omega*f forwards (Johnson and Graham, from memory)."""
    alone = ConnectorPiece(
        next_db=(60.0,) * 6, fext_db=(66.0,) * 6, sqrt_db=0.0, mismatch=0.0, contact_ohm=0.0
    )
    run = connector_run(alone, F, seed=4)
    network = scattering(chain([run], F))
    omega = 2e6 * np.pi * F
    near = (run.inductance_h[0] / 100.0 + run.capacitance_f[0] * 100.0) / 2.0
    far = (run.capacitance_f[0] * 100.0 - run.inductance_h[0] / 100.0) / 2.0
    for i, k in ((0, 1), (1, 2), (2, 3)):
        assert np.abs(network.s11[:, k, i]) == pytest.approx(omega * abs(near[i, k]), rel=0.02)
        assert np.abs(network.s21[:, k, i]) == pytest.approx(omega * abs(far[i, k]), rel=0.06)


def test_a_connector_couples_at_20_db_a_decade_and_about_its_stated_loss() -> None:
    f = np.array([10.0, 100.0])
    network = scattering(chain([connector_run(JACK_6A, f, seed=9)], f))
    loss = -20.0 * np.log10(np.abs(network.s11[:, 2, 1]))
    assert loss[0] - loss[1] == pytest.approx(20.0, abs=0.3)
    # The scatter of 1.5 dB is a standard deviation.
    assert loss[1] == pytest.approx(JACK_6A.next_db[3], abs=5.0)


def test_gamma_of_the_cascade_is_that_of_its_sections() -> None:
    gamma, _ = propagation(WEFT_6A, F, 20.0)
    run = cable_run(CablePiece(WEFT_6A, 12.34), F, seed=1)
    assert run.length_m * run.factor.shape[0] == pytest.approx(12.34)
    assert run.gamma == pytest.approx(gamma)
