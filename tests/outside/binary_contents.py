"""Which files of other people's crates are inside the release binary: only the three faces in which packets are set.

A crate may carry a file under terms of its own, such as a colour profile, which the binary then hands on. The profile
of printpdf is looked for piece by piece, and so is every font, picture or other data that came with a crate."""

import json
import os
import pathlib
import subprocess
import sys

from _tool import ROOT

RELEASE = pathlib.Path(os.environ.get("BENCHLEAF_RELEASE", ROOT / "target/release/benchleaf"))
PROFILE = "CoatedFOGRA39.icc"
WANTED = {"DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf", "DejaVuSansMono.ttf"}
DATA = {".icc", ".icm", ".ttf", ".otf", ".ttc", ".woff", ".woff2", ".afm", ".png", ".jpg", ".gif", ".svg", ".pdf", ".gz"}
PIECE = 64


def share(binary, content, step):
    """Share of a file's pieces that are in the binary; pieces of few different bytes stand anywhere by chance."""
    pieces = [content[start : start + PIECE] for start in range(0, len(content) - PIECE + 1, step)]
    pieces = [piece for piece in pieces if len(set(piece)) >= 16]
    return sum(piece in binary for piece in pieces) / max(1, len(pieces))


def main():
    binary = RELEASE.read_bytes()
    told = subprocess.run(
        ["cargo", "metadata", "--format-version", "1", "--locked"], cwd=ROOT, check=True, capture_output=True
    )
    packages = [package for package in json.loads(told.stdout)["packages"] if package["source"]]
    folders = {package["name"]: pathlib.Path(package["manifest_path"]).parent for package in packages}
    profile = folders["printpdf"] / "src/res" / PROFILE
    if not profile.is_file():
        sys.exit(f"printpdf came without {PROFILE}: look what it links in now, and search for that")
    assert share(binary, profile.read_bytes(), 1024) == 0, f"{PROFILE} is in the binary, or a part of it"
    files = [path for folder in folders.values() for path in folder.rglob("*") if path.suffix.lower() in DATA]
    files += profile.parent.glob("*LICENSE*")
    # Faces of one family have pieces in common.
    found = {path for path in files if share(binary, (text := path.read_bytes()), max(PIECE, len(text) // 16)) > 0.7}
    names = {path.name for path in found}
    assert WANTED <= names, f"the search misses what is there: {sorted(WANTED - names)}"
    assert not names - WANTED, f"in the binary, and not needed: {sorted(names - WANTED)}"
    print(f"{len(files)} files searched for, {', '.join(sorted(names))} found")


main()
