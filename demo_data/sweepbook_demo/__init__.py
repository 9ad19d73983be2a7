"""The demo: an invented building, two invented makes of tester, the model behind their files.

Nothing here imports sweepbook. The line model (`line`, `structure`, `cascade`, `plant`) knows no
limit; `limit_lines` and `tester` are the tester's side, which judges. README.md in this folder
describes the layouts of the exports and every fault and mistake that was planted.
"""
