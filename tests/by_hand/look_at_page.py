"""Pictures of a report, on screens, on paper and as colour-blind people see it; and its script.

    python tests/by_hand/look_at_page.py REPORT.html FOLDER

What a program can see is checked here; what only a person can see is listed in README.md.
"""

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

WIDTHS = (390, 768, 1280)
EYES = ("achromatopsia", "protanopia", "deuteranopia", "tritanopia")
TALL = 2600
"""Pixels of a picture from the top; a whole page may be longer than a picture can be."""
WHOLE = (
    "for (const one of document.querySelectorAll('.link')) one.style.contentVisibility = 'visible'"
)
SPILLS = """[...document.querySelectorAll('body *')].filter(
    one => !one.closest('.wide, svg, thead'))
    .filter(one => one.getBoundingClientRect().right > innerWidth + 1).map(one => one.outerHTML)"""
SMALLEST_PX = 9
LETTERS = """[...document.querySelectorAll('figure text')].map(one => parseFloat(
    getComputedStyle(one).fontSize) * one.ownerSVGElement.clientWidth / 1280)"""


def look(browser: Any, report: Path, folder: Path) -> Iterator[str]:
    """Make the pictures, and tell what is wrong."""
    for width in WIDTHS:
        yield from on_screen(browser, report, folder, width)
    yield from of_plots(browser, report, folder)
    yield from of_script(browser, report)
    yield from on_paper(browser, report, folder)


def opened(browser: Any, report: Path, width: int, faults: list[str], script: bool = True) -> Any:
    """The page in a window of its own, which notes what it must not do."""
    context = browser.new_context(
        viewport={"width": width, "height": 900}, java_script_enabled=script
    )
    page = context.new_page()
    page.on("console", lambda message: faults.append(f"console: {message.text}"))
    page.on("pageerror", lambda error: faults.append(f"error: {error}"))
    page.on(
        "request",
        lambda request: (
            None if request.url == report.as_uri() else faults.append(f"loads {request.url}")
        ),
    )
    page.goto(report.as_uri())
    return page


def on_screen(browser: Any, report: Path, folder: Path, width: int) -> Iterator[str]:
    """At one width: from the top, and the first link with plots."""
    faults: list[str] = []
    page = opened(browser, report, width, faults)
    page.evaluate(WHOLE)
    clip = {"x": 0, "y": 0, "width": width, "height": TALL}
    page.screenshot(path=folder / f"top-{width}.png", clip=clip, full_page=True)
    link = page.locator("section.link:has(figure)").first
    link.screenshot(path=folder / f"link-{width}.png")
    for one in page.evaluate(SPILLS):
        yield f"{width} px: runs out of the window: {one[:120]}"
    small = [size for size in page.evaluate(LETTERS) if size < SMALLEST_PX]
    if small:
        yield f"{width} px: {len(small)} letters of plots are under {SMALLEST_PX} px"
    yield from faults
    page.context.close()


def of_plots(browser: Any, report: Path, folder: Path) -> Iterator[str]:
    """The plots of the first link that has some, as others see them."""
    faults: list[str] = []
    page = opened(browser, report, 1280, faults)
    page.evaluate(WHOLE)
    session = page.context.new_cdp_session(page)
    for eyes in EYES:
        session.send("Emulation.setEmulatedVisionDeficiency", {"type": eyes})
        page.locator(".plots").first.screenshot(path=folder / f"plots-{eyes}.png")
    yield from faults
    page.context.close()


def of_script(browser: Any, report: Path) -> Iterator[str]:
    """It sorts and filters; without it the page says the same."""
    faults: list[str] = []
    page = opened(browser, report, 1280, faults)
    plain = opened(browser, report, 1280, faults, script=False)
    rows = "table.sortable tbody tr"
    if page.locator(rows).all_inner_texts() != plain.locator(rows).all_inner_texts():
        yield "with the script the table says something else"
    page.locator("table.sortable thead button").first.click()
    labels = page.locator(f"{rows} th").all_inner_texts()
    if page.locator("table.sortable thead th").first.get_attribute("aria-sort") != "ascending":
        yield "a click on a title does not sort"
    page.locator(".filter input").fill(labels[-1])
    shown = [row for row in page.locator(rows).all() if row.is_visible()]
    if not 1 <= len(shown) < len(labels):
        yield f"the filter leaves {len(shown)} of {len(labels)} rows"
    yield from faults
    for one in (page, plain):
        one.context.close()


def on_paper(browser: Any, report: Path, folder: Path) -> Iterator[str]:
    """As a PDF and as pictures of its pages; each link begins one."""
    page = opened(browser, report, 1280, [])
    paper = folder / "paper.pdf"
    page.pdf(path=paper, prefer_css_page_size=True)
    labels = [text.strip() for text in page.locator("section.link > h2").all_inner_texts()]
    page.context.close()
    told = subprocess.run(
        ["pdftotext", "-layout", str(paper), "-"], capture_output=True, text=True, check=True
    ).stdout
    begins = {" ".join(sheet.split())[:200] for sheet in told.split("\f")}
    for label in labels:
        if not any(begin.startswith(" ".join(label.split())) for begin in begins):
            yield f"paper: the link {label} does not begin a page"
    subprocess.run(
        ["pdftoppm", "-r", "60", "-png", "-l", "30", str(paper), str(folder / "paper")], check=True
    )
    grey = ["pdftoppm", "-r", "60", "-gray", "-png", "-l", "30", str(paper), str(folder / "grey")]
    subprocess.run(grey, check=True)


def main() -> int:
    """Look, and tell what is wrong."""
    report, folder = Path(sys.argv[1]).resolve(), Path(sys.argv[2])
    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as start:
        browser = start.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        faults = list(look(browser, report, folder))
        browser.close()
    for fault in faults:
        print(fault)
    print(f"{len(faults)} faults; pictures in {folder}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
