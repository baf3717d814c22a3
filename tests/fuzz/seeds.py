#!/usr/bin/env python3
"""Writes the inputs that fuzzing begins with: usage: seeds.py PROGRAM FOLDER

One folder a target, made from the samples, the tests' data and what the program itself writes.
"""
import pathlib
import re
import shutil
import subprocess
import sys
import tarfile
import tempfile

program, out = pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2])
root = pathlib.Path(__file__).resolve().parents[2]
jobs = sorted(root.glob("samples/*/job.toml")) + sorted(root.glob("tests/checks/sound/*.toml"))


def seed(target, name, content):
    folder = out / target
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_bytes(content)


def named(path):
    return path.parent.name + "-" + path.name


readings = {b"0.42", b">999", b"<0.01", b"LIM: no access", b"N/A: none", b"0,42", b"1.0 ohm", b"-3"}
for job in jobs:
    readings |= set(re.findall(rb"= *\"?([<>]?[0-9.]+)\"?", job.read_bytes()))
for number, reading in enumerate(sorted(readings)):
    seed("reading", str(number), reading)

for number, table in enumerate(["Circuit,Zs\n3,0.46\n6,0.84\n", "\ufeffRef;Zs (\u03a9);RCD\r\n3;0,46;24\r\n",
                                "Circuit\tZs\n3\t>999\n", 'Ref,"Z ""s"""\n"3","0.4\n6"\n', ""]):
    for delimiter in range(4):
        seed("csv", f"{number}-{delimiter}", bytes([delimiter]) + table.encode())
for job in jobs:
    for target in ("job", "report", "toml", "certificate"):
        seed(target, named(job), job.read_bytes())
for file in [root / "samples/installer.toml", *root.glob("tests/data/toml/*.toml")]:
    seed("toml", file.name, file.read_bytes())
seed("installer", "installer.toml", (root / "samples/installer.toml").read_bytes())
for file in root.glob("forms/*.toml"):
    kind = 1 if file.name.startswith("theme-") else 2 if file.name.startswith("words-") else 0
    if file.stat().st_size < 100_000:  # the great words file makes every run slow
        seed("form", file.name, bytes([kind]) + file.read_bytes())
words = (root / "forms/words-cymraeg.toml").read_bytes().split(b"\n")
seed("form", "words", bytes([2]) + b"\n".join(words[:60]) + b"\n")
for font in [*root.glob("fonts/*.ttf"), *root.glob("tests/data/pdf/*.ttf")]:
    seed("font", font.name, font.read_bytes())
for image in root.glob("tests/data/images/*"):
    if image.stat().st_size < 50_000:
        seed("jpeg" if image.suffix == ".jpg" else "png", image.name, image.read_bytes())
texts = ["Flat 2, 9 Tallow Yard", "M. Okonjo-Pryce", "", "a" * 300, "Ŵ ½ Ω ° ≤", "one two\nthree", "3"]
for form in range(4):
    seed("layout", f"form-{form}", bytes([form]) + "\x1e".join(texts * 2).encode())
    seed("layout", f"short-{form}", bytes([form]))

with tempfile.TemporaryDirectory() as scratch:
    scratch = pathlib.Path(scratch)
    shutil.copytree(root / "samples", scratch / "samples")

    def run(*arguments):
        subprocess.run([program, *arguments], cwd=scratch / "samples", check=True, capture_output=True)

    for job in ("sewing-workshop", "tt-cottage"):
        run("issue", job)
    run("export", "--all", "--to", "all.zip")
    run("export", "HL-0002", "--to", "one.zip")
    for name in ("all.zip", "one.zip"):
        seed("zip", name, (scratch / "samples" / name).read_bytes())
    run("export", "HL-0002", "--to", "bag")
    kinds = {"inventory.json": 0, "issue.json": 1, "manifest-sha512.txt": 2, "tagmanifest-sha512.txt": 2}
    for file in [*(scratch / "samples").rglob("*.json"), *(scratch / "samples/bag").rglob("*.txt")]:
        if file.name in kinds:
            seed("inventory", named(file), bytes([kinds[file.name]]) + file.read_bytes())
with tarfile.open(root / "tests/data/archive/ocfl-fixtures-1.1.tar.xz") as packed:
    for member in packed:
        if member.isfile() and member.name.endswith("/inventory.json") and member.size < 4000:
            name = member.name.replace("/", "_")
            seed("inventory", name, b"\0" + packed.extractfile(member).read())
