#!/usr/bin/env python3
"""Holds the schemas that `ohmleaf schema` prints against real files with an unrelated validator:
every sample and every sound job must pass, every slip must be refused, and the program must agree.
Usage: check.py OHMLEAF SOURCE_ROOT
"""
import datetime
import json
import pathlib
import subprocess
import sys
import tempfile
import tomllib

import jsonschema

ohmleaf, root = sys.argv[1], pathlib.Path(sys.argv[2])
failures = []


def fail(text):
    failures.append(text)
    print("schemas: " + text, file=sys.stderr)


def plain(value):
    """As a TOML plugin of an editor hands it on: dates as they are written."""
    if isinstance(value, dict):
        return {k: plain(v) for k, v in value.items()}
    if isinstance(value, list):
        return [plain(v) for v in value]
    if isinstance(value, (datetime.date, datetime.datetime, datetime.time)):
        return value.isoformat()
    return value


def load(path):
    return plain(tomllib.loads(path.read_text(encoding="utf-8")))


def schema_of(name):
    text = subprocess.run([ohmleaf, "schema", name], check=True, capture_output=True).stdout
    schema = json.loads(text)
    jsonschema.Draft7Validator.check_schema(schema)
    return jsonschema.Draft7Validator(schema)


job, installer, form, theme = (schema_of(n) for n in ("job", "installer", "form", "theme"))


# What every job of tests/checks/sound has in common is added by their bench.
HEAD = {"format": 1, "kind": "minor works", "date": "2026-11-20", "person": "rh",
        "premises": "1 High Row", "client": "A. Nother", "work": "One socket-outlet."}


def whole(path):
    data = load(path)
    return HEAD | data if "sound" in path.parts else data


def must_pass(validator, path):
    for error in validator.iter_errors(whole(path)):
        fail(f"{path}: {'.'.join(map(str, error.absolute_path))}: {error.message[:200]}")


def undescribed(schema, path=""):
    for name, one in schema.get("properties", {}).items():
        if len(one.get("description", "")) < 5:
            yield path + name
        yield from undescribed(one, path + name + ".")
        yield from undescribed(one.get("items", {}), path + name + ".")


jobs = sorted(root.glob("samples/*/job.toml")) + sorted(root.glob("tests/checks/sound/*.toml"))
forms = [p for p in sorted(root.glob("forms/*.toml")) if not p.name.startswith(("theme-", "words-"))]
themes = sorted(root.glob("forms/theme-*.toml"))
for validator, paths in ((job, jobs), (installer, [root / "samples/installer.toml"]),
                         (form, forms), (theme, themes)):
    if not paths:
        fail("a kind of file has no sample")
    for path in paths:
        must_pass(validator, path)
    for name in undescribed(validator.schema):
        fail(f"{validator.schema['title']}: {name} is not explained")


def places(value, path=()):
    """Every key of a file, with the way to it."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, below in items:
        yield path + (key,)
        yield from places(below, path + (key,))


def at(value, path):
    for key in path:
        value = value[key]
    return value


def free(path):
    """Where any key, or any value, may stand: the installer's own fields and notes, printed words."""
    return "extra" in path[:-1] or "private" in path or "words" in path[:-1]


def slips(validator, data, what, each=1):
    """Each place in turn: its key misspelt, then a value that can stand nowhere."""
    refused = 0
    for path in list(places(data))[::each]:
        if free(path):
            continue
        table, key = at(data, path[:-1]), path[-1]
        right = table[key]
        table[key] = [[[1]]]
        if validator.is_valid(data):
            fail(f"{what}: the wrong value of {path} is not seen")
        table[key] = right
        refused += 1
        if isinstance(key, str) and not (what == "installer" and len(path) == 2):
            table[key + "q"] = table.pop(key)
            if validator.is_valid(data):
                fail(f"{what}: the misspelt key {path} is not seen")
            table[key] = table.pop(key + "q")
            refused += 1
    return refused


seen = slips(job, whole(jobs[-1]), "job") + slips(job, whole(jobs[0]), "job", 3)
seen += slips(installer, load(root / "samples/installer.toml"), "installer", 3)
seen += slips(form, load(root / "forms/handover.toml"), "form", 5)
seen += slips(theme, load(root / "forms/theme-clay.toml"), "theme")
if seen < 300:
    fail(f"only {seen} slips were tried")

# Slips of a tired day in a sound job. Both must refuse them: the editor and the program.
SLIPS = [
    ('format   = 1', 'format   = 2'),
    ('kind     = "minor works"', 'kind     = "minor work"'),
    ('date     = 2026-11-20', 'date     = "20/11/2026"'),
    ('client   = "M. Okonjo-Pryce"', 'client   = ""'),
    ('client   = "M. Okonjo-Pryce"', 'client   = 7'),
    ('client   = "M. Okonjo-Pryce"', ''),
    ('ze          = 0.21', 'ze          = "0,21"'),
    ('ze          = 0.21', 'ze          = "0.21 ohm"'),
    ('ze          = 0.21', 'ze          = -0.21'),
    ('ze          = 0.21', 'ze          = "LIM"'),
    ('ze          = 0.21', 'ze          = true'),
    ('pfc         = "1.3 kA"', 'pfc         = 1.3'),
    ('pfc         = "1.3 kA"', 'pfc         = "1.3"'),
    ('neutral     = 25', 'neutral     = 0'),
    ('neutral     = 25', 'neutral     = 2500'),
    ('neutral     = 25', 'neutral     = "25"'),
    ('polarity    = true', 'polarity    = "yes"'),
    ('type   = "ring final"', 'type   = "ring"'),
    ('feeds  = ["lighting"]', 'feeds  = ["lights"]'),
    ('proved_dead  = 2026-11-20T09:12:00', 'proved_dead  = "in the morning"'),
    ('volts = 500', 'volts = 500000'),
    ('"N/A: no barrier was passed"', '"N/A"'),
]
sound = (root / "samples/sewing-workshop/job.toml").read_text(encoding="utf-8")
with tempfile.TemporaryDirectory() as scratch:
    folder = pathlib.Path(scratch)
    (folder / "installer.toml").write_text((root / "samples/installer.toml").read_text())
    (folder / "job").mkdir()
    target = folder / "job" / "job.toml"

    def program_says(text):
        target.write_text(text)
        return subprocess.run([ohmleaf, "check", "-q", str(target)], capture_output=True).returncode

    if program_says(sound) != 0 or not job.is_valid(plain(tomllib.loads(sound))):
        fail("the sound job is refused: the control of the slips")
    for have, wrong in SLIPS:
        if have not in sound:
            fail(f"the sound job no longer has {have!r}")
            continue
        text = sound.replace(have, wrong, 1)
        if job.is_valid(plain(tomllib.loads(text))):
            fail(f"the schema takes {wrong!r}")
        if program_says(text) != 2:
            fail(f"the program takes {wrong!r}")

if failures:
    sys.exit(f"schemas: {len(failures)} failures")
print(f"schemas: {len(jobs)} jobs, {len(forms)} forms, {len(themes)} themes pass; "
      f"{seen + len(SLIPS)} slips are refused")
