"""What comes from others, held against `deny.toml` by cargo-deny: licences, sources, crates that stand there twice; and
known advisories, where the advisory database can be had."""

import pathlib
import subprocess
import sys

from _tool import ROOT

DENY = pathlib.Path(sys.executable).parent / "cargo-deny"


def deny(*words):
    done = subprocess.run([DENY, *words], cwd=ROOT, capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


def main():
    code, said = deny("--offline", "--locked", "check", "bans", "licenses", "sources")
    if code != 0:
        sys.exit(said)
    # A licence that isn't allowed has to be seen: with the list emptied the same check fails.
    spoilt = ROOT / "target/deny-nothing.toml"
    spoilt.write_text("[licenses]\nallow = []\n")
    code, _ = deny("--offline", "--locked", "check", "--config", str(spoilt), "licenses")
    assert code != 0, "nothing is allowed, and nothing was found"
    code, said = deny("--locked", "check", "advisories")
    if "failed to fetch" in said or "failed to load" in said:
        print("licences, sources, duplicates as deny.toml says; the advisory database could not be had")
    elif code != 0:
        sys.exit(said)
    else:
        print("licences, sources, duplicates, advisories as deny.toml says")


main()
