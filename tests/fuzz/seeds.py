#!/usr/bin/env python3
"""Writes the inputs that fuzzing begins with: usage: seeds.py PROGRAM FOLDER

One folder a target, made from the samples, the tests' data and what the program itself writes.
"""
import hashlib
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
edits = {"circuit[0].live.zs": "0.42", "circuit[0].dead.insulation.live_earth": '">999"', "supply.ze": "0.3",
         "premises": '"Flat 2"', "isolation.locked": "true", "circuit[1].dead.R1R2": "0.31",
         "handover.shown": "true", "circuit[0].cable": "{ line = 2.5, cpc = 1.5 }", "x.y.z": "[1, 2]"}
for number, (path, value) in enumerate(edits.items()):
    for job in [root / "samples/tt-cottage/job.toml", *jobs[-4:]]:
        seed("edit", f"{number}-{named(job)}", f"\0{path}\n{value}\n".encode() + job.read_bytes())
short = b"# a\n[a] # b\nx = 1 # c\n  # y =     # ohm\n[[l]]\nt = { u = 1 }\r\n\n[l.m]\nn.o = '#'"
for path, value in {"a.x": "2", "a.y": "0.4", "a.z": "3", "l[0].t.v": "2", "l[0].m.n.p": "1", "q": "[]"}.items():
    seed("edit", "short-" + path, f"\0{path}\n{value}\n".encode() + short)
for number, typed in enumerate(["0.42", ">999", "N/A: none", "y", "2", "1,3", "9:12", "now", "0.4 ohm", "{ L1 = 1 }"]):
    for place in range(0, 400, 8):
        seed("edit", f"typed-{place}-{number}", bytes([1, place % 256, place // 256]) + typed.encode())
for file in [root / "samples/installer.toml", *root.glob("tests/data/toml/*.toml")]:
    seed("toml", file.name, file.read_bytes())
seed("installer", "installer.toml", (root / "samples/installer.toml").read_bytes())
for file in root.glob("forms/*.toml"):
    kind = 1 if file.name.startswith("theme-") else 2 if file.name.startswith("words-") else 0
    if kind == 2:  # a great file, which would make every run slow
        continue
    head, *blocks = re.split(rb"(?m)^(?=\[\[block\]\])", file.read_bytes())
    for number in range(0, max(1, len(blocks)), 2):
        seed("form", f"{file.name}-{number}", bytes([kind]) + head + b"".join(blocks[number:number + 2]))
words = (root / "forms/words-cymraeg.toml").read_bytes().split(b"\n")
seed("form", "words", bytes([2]) + b"\n".join(words[:60]) + b"\n")
for font in [*root.glob("fonts/*.ttf"), *root.glob("tests/data/pdf/*.ttf")]:
    seed("font", font.name, font.read_bytes())
for image in [*root.glob("tests/data/images/*"), *root.glob("tests/data/hostile/*.png")]:
    if image.stat().st_size < 50_000:
        seed("jpeg" if image.suffix == ".jpg" else "png", image.name, image.read_bytes())
hostile = ["Flat 2, 9 Tallow Yard", "=1+1", "-0.3", "\x1b[31m", "\u202e", "<a&b>", '"', "'; --", "a\r\nb", "\u0085",
           "(\\)", "\u03a9 \u00bd", "@x", "\t=1", "\U0001f600", "]]>", "N/A: none", "+44 1632 960001", ""]
for number in range(len(hostile)):
    turned = hostile[number:] + hostile[:number]
    seed("strings", str(number), "\x1e".join(turned[:10]).encode())
    for kind in range(5):
        seed("output", f"{kind}-{number}", bytes([kind]) + "\x1e".join(turned).encode())
texts = ["Flat 2, 9 Tallow Yard", "M. Okonjo-Pryce", "", "a" * 300, "Ŵ ½ Ω ° ≤", "one two\nthree", "3"]
for block in range(0, 120, 2):
    seed("layout", f"block-{block}", bytes([block, 0]) + "\x1e".join(texts * 2).encode())
    seed("layout", f"short-{block}", bytes([block, 0]))


def signatures(folder):
    """Signatures and time-stamps by the openssl program, with keys that are gone afterwards."""
    def openssl(*arguments):
        subprocess.run(["openssl", *arguments], cwd=folder, check=True, capture_output=True)

    def made(name):
        return (folder / name).read_bytes()

    (folder / "data").write_bytes(b"before and after")  # as seal.cpp has it
    (folder / "stamped").write_bytes(b"the certificate")
    (folder / "serial").write_text("01\n")
    (folder / "config").write_text(
        "[tsa]\ndefault_tsa = one\n[one]\nserial = serial\nsigner_cert = stamp.pem\nsigner_key = stamp.key\n"
        "signer_digest = sha256\ndefault_policy = 1.2.3.4\ndigests = sha256, sha1\ness_cert_id_chain = no\n"
        "ess_cert_id_alg = sha256\n")
    kinds = {"ec": ["ec", "-pkeyopt", "ec_paramgen_curve:P-256"], "rsa": ["rsa:2048"],
             "stamp": ["ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-addext", "extendedKeyUsage=critical,timeStamping"]}
    for name, kind in kinds.items():
        openssl("req", "-x509", "-nodes", "-days", "36500", "-subj", f"/O=Hollins & Lark/CN=R. Hollins {name}",
                "-addext", "basicConstraints=critical,CA:FALSE", "-addext", "keyUsage=critical,digitalSignature",
                "-newkey", *kind, "-keyout", f"{name}.key", "-out", f"{name}.pem")
    sign = ["cms", "-sign", "-binary", "-md", "sha256", "-in", "data", "-outform", "DER", "-out", "cms"]
    for name in ("ec", "rsa"):
        signer = ["-signer", f"{name}.pem", "-inkey", f"{name}.key"]
        for number, more in enumerate([["-cades"], [], ["-cades", "-nodetach"], ["-cades", "-certfile", "stamp.pem"],
                                       ["-cades", "-nocerts"], ["-cades", "-keyid"]]):
            openssl(*sign, *signer, *more)
            seed("seal", f"cms-{name}-{number}", b"\0" + made("cms"))
    for number, more in enumerate([["-sha256", "-cert"], ["-sha256"], ["-sha1", "-cert"]]):
        openssl("ts", "-query", *more, "-data", "stamped", "-out", "request")
        openssl("ts", "-reply", "-config", "config", "-queryfile", "request", "-out", "answer")
        seed("seal", f"answer-{number}", b"\1" + made("answer"))
        openssl("ts", "-reply", "-config", "config", "-in", "answer", "-token_out", "-out", "token")
        seed("seal", f"token-{number}", b"\1" + made("token"))
    seed("seal", "pem", b"\3words\n" + made("ec.pem") + made("stamp.pem"))


def sealed(content, digits):
    """As a PDF of ours has it: the ranges, the file's own digest, the hole."""
    def text(digest):
        before = b"%%PDF-1.7\n<< /ByteRange [ 0 %10d %10d %10d ] /XX_ohmleaf_SHA256 <%s>\n/Contents " % (
            *places, digest)
        return before, b"\n>>\n%%EOF\n"

    places = (0, 0, 0)
    before, after = text(b"0" * 64)  # as long as it will be
    hole = b"<" + content.hex().encode() + b"0" * (digits - 2 * len(content)) + b">"
    places = (len(before), len(before) + len(hole), len(after))
    digest = hashlib.sha256(b"".join(text(b"0" * 64))).hexdigest()
    before, after = text(digest.encode())
    return before + hole + after


seed("seal", "hole", b"\2" + sealed(b"signature", 64))
seed("seal", "empty-hole", b"\2" + sealed(b"", 8))
with tempfile.TemporaryDirectory() as scratch:
    signatures(pathlib.Path(scratch))
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
