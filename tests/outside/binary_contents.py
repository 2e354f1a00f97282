"""Which files of other people's crates are inside the release binary: only the three faces in which packets are set.

A crate may carry a file under terms of its own, such as a colour profile, which the binary then hands on. Every file
that came with a crate of the program and isn't source text is looked for; the profile of printpdf piece by piece."""

import json
import os
import pathlib
import subprocess
import sys

from _tool import ROOT

RELEASE = pathlib.Path(os.environ.get("BENCHLEAF_RELEASE", ROOT / "target/release/benchleaf"))
PROFILE = "CoatedFOGRA39.icc"
WANTED = {"DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf"}
SOURCE = {".rs", ".toml", ".md", ".lock", ".orig", ".json", ".yml", ".yaml", ".sh", ".py", ".txt", ".html", ".c", ".h", ".asm"}
PIECE = 64


def pieces(content, step):
    """Pieces of a file that stand nowhere by chance: none of few different bytes."""
    for start in range(0, len(content) - PIECE + 1, step):
        piece = content[start : start + PIECE]
        if len(set(piece)) >= 20:
            yield piece


def main():
    binary = RELEASE.read_bytes()
    told = subprocess.run(
        ["cargo", "metadata", "--format-version", "1", "--locked"], cwd=ROOT, check=True, capture_output=True
    )
    packages = {package["name"]: package for package in json.loads(told.stdout)["packages"] if package["source"]}
    folders = {name: pathlib.Path(package["manifest_path"]).parent for name, package in packages.items()}
    profile = folders["printpdf"] / "src/res" / PROFILE
    if not profile.is_file():
        sys.exit(f"printpdf came without {PROFILE}: look where its profile is now, and search for that")
    found = set()
    searched = 0
    for folder in folders.values():
        for path in sorted(folder.rglob("*")):
            if not path.is_file() or path.suffix in SOURCE or path.stat().st_size < 1024:
                continue
            content = path.read_bytes()
            searched += 1
            if any(piece in binary for piece in pieces(content, max(PIECE, len(content) // 4))):
                found.add(path)
    for path in (profile, profile.with_name(PROFILE + ".LICENSE.txt")):
        if path.is_file() and any(piece in binary for piece in pieces(path.read_bytes(), 1024)):
            found.add(path)
    names = {path.name for path in found}
    assert WANTED <= names, f"the search misses what is there: {sorted(WANTED - names)}"
    strange = sorted(str(path.relative_to(path.parents[3])) for path in found if path.name not in WANTED)
    assert not strange, f"in the binary, and not needed: {strange}"
    print(f"{searched} files searched for, {len(names)} found: {', '.join(sorted(names))}")


main()
