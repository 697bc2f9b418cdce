"""A small reader of BagIt bags (RFC 8493), to have a second opinion. Usage: check.py FOLDER"""
import hashlib
import os
import re
import sys

bag = sys.argv[1]


def need(truth, words):
    if not truth:
        sys.exit(words)


with open(os.path.join(bag, "bagit.txt"), "rb") as f:
    need(f.read() == b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", "bagit.txt is wrong")

present = set()
for folder, _, files in os.walk(bag):
    for name in files:
        present.add(os.path.relpath(os.path.join(folder, name), bag).replace(os.sep, "/"))
payload = {p for p in present if p.startswith("data/")}
need(payload, "no payload")


def manifest(name, algorithm):
    listed = {}
    digits = 2 * hashlib.new(algorithm).digest_size
    with open(os.path.join(bag, name), encoding="utf-8") as f:
        for line in f:
            found = re.fullmatch(r"([0-9A-Fa-f]{%d})[ \t]+(\S.*)\n" % digits, line)
            need(found, name + " has a line that is none: " + line)
            need(found[2] not in listed, name + " lists a file twice: " + found[2])
            listed[found[2]] = found[1].lower()
    for path, want in listed.items():
        with open(os.path.join(bag, path), "rb") as f:
            need(hashlib.new(algorithm, f.read()).hexdigest() == want, "checksum of " + path)
    return set(listed)


algorithms = [a for a in ("sha256", "sha512") if "manifest-%s.txt" % a in present]
need("sha256" in algorithms, "no manifest of SHA-256")
uncovered = {"tagmanifest-%s.txt" % a for a in algorithms} | {"signature.txt"}
for algorithm in algorithms:
    need(manifest("manifest-%s.txt" % algorithm, algorithm) == payload, "the manifest does not list the payload")
    tags = manifest("tagmanifest-%s.txt" % algorithm, algorithm)
    need(tags == present - payload - uncovered, "the tag manifest does not list the tag files")

with open(os.path.join(bag, "bag-info.txt"), encoding="utf-8") as f:
    info = dict(line.rstrip("\n").split(": ", 1) for line in f)
octets = sum(os.path.getsize(os.path.join(bag, p)) for p in payload)
need(info["Payload-Oxum"] == "%d.%d" % (octets, len(payload)), "Payload-Oxum")
need(re.fullmatch(r"\d{4}-\d{2}-\d{2}", info["Bagging-Date"]), "Bagging-Date")
