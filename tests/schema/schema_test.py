"""The schema of `tunesheaf schema`, judged by a general JSON Schema validator.

Usage: schema_test.py PROGRAM ROOT
Accepts every good song (the demo songs, tests/songs, and what `new` writes) and rejects the bad songs that are bad in
their structure. Needs python3-jsonschema and python3-yaml. All scalars are read as text, as the song language does.
"""
import copy
import glob
import json
import os
import subprocess
import sys
import tempfile

import yaml
from jsonschema import Draft202012Validator

# Bad songs that YAML can read and whose fault is one of structure; each must be rejected. What only music or another
# line of the song can tell (bars that do not add up, names that are nowhere) is left to `check`.
REJECTED = [
    "133-unknown-key-of-the-song", "134-unknown-key-of-a-section", "136-key-at-the-wrong-place", "137-no-title",
    "138-no-sections", "139-no-instrument", "140-no-frets", "143-list-for-a-text", "144-time-without-colon", "145-time-past-sixty-seconds",
    "600-language-in-words", "601-video-without-address",
    "147-feel-unknown", "148-yes-spelt-otherwise", "149-times-zero",
    "150-pick-up-without-beats", "151-capo-in-words", "152-staff-unknown", "153-frets-with-dashes",
    "157-from-someone-else", "162-ending-without-number", "163-except-no-bar", "166-form-as-a-text",
]


def load(text):
    return yaml.load(text, Loader=yaml.BaseLoader)


def load_file(path):
    with open(path, encoding="utf-8") as file:
        return load(file.read())


def good_songs(program, root):
    for path in sorted(glob.glob(root + "/songs-demo/*.yaml") + glob.glob(root + "/tests/songs/*.yaml")):
        yield os.path.relpath(path, root), load_file(path)
    with tempfile.TemporaryDirectory() as folder:
        for instrument in ("guitar", "ukulele", "violin", "piano", "drum kit", "cajon"):
            path = os.path.join(folder, instrument + ".yaml")
            subprocess.run([program, "new", path, "--instrument", instrument], check=True, capture_output=True)
            yield "new " + instrument, load_file(path)


def spoilt(song):
    """Small changes to a good song that each make its structure wrong."""
    def changed(name, change):
        other = copy.deepcopy(song)
        change(other)
        return name, other
    part = next(iter(song["parts"]))
    section = next(iter(song["sections"]))
    yield changed("no title", lambda s: s.pop("song"))
    yield changed("unknown key", lambda s: s.update(sonng="x"))
    yield changed("title is a list", lambda s: s.update(song=["a"]))
    yield changed("parts are a text", lambda s: s.update(parts="guitar"))
    yield changed("part without instrument", lambda s: s["parts"][part].pop("instrument"))
    yield changed("unknown key of a part", lambda s: s["parts"][part].update(tunning="open G"))
    yield changed("tempo in words alone", lambda s: s.update(tempo="-3"))
    yield changed("times is none", lambda s: s["sections"][section].update(times="0"))
    yield changed("form names nothing", lambda s: s.update(form=[]))


def main(program, root):
    faults = []
    schema = json.loads(subprocess.run([program, "schema"], check=True, capture_output=True, text=True).stdout)
    Draft202012Validator.check_schema(schema)
    if schema.get("$schema") != "https://json-schema.org/draft/2020-12/schema":
        faults.append("the schema does not name its draft")
    validator = Draft202012Validator(schema)
    good = list(good_songs(program, root))
    for name, song in good:
        for error in validator.iter_errors(song):
            faults.append(f"{name} is good and is rejected at {'/'.join(map(str, error.path))}: {error.message[:150]}")
    for name, song in spoilt(good[0][1]):
        if validator.is_valid(song):
            faults.append(f"{good[0][0]} with \"{name}\" is accepted")
    for name in REJECTED:
        if validator.is_valid(load_file(f"{root}/tests/golden/bad/{name}.yaml")):
            faults.append(f"{name} is bad and is accepted")
    for fault in faults:
        print(fault)
    print(f"{len(good)} good songs, {len(REJECTED)} bad songs and {len(list(spoilt(good[0][1])))} spoilt ones judged")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
