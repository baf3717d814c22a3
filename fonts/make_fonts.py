#!/usr/bin/python3
"""Makes the three text faces that ohmleaf embeds, from the Debian package fonts-inter.

    apt-get install fonts-inter python3-fonttools
    python3 fonts/make_fonts.py

The result is committed, so a build never needs this script. What it does, and why:

* keeps only the characters that a certificate can need: each one costs space in the program;
* turns the cubic outlines of the package's files into quadratic ones in plain glyf form, with
  no composite glyph: PDF libraries and viewers disagree about nested composites;
* gives every character a glyph of its own, in the order of the code points: a glyph number
  then stands for one character, and text copied out of a page is the text that went in;
* puts the tabular digits where the plain ones were: columns of readings line up by themselves;
* takes the small l with a tail, so that l, I and 1 differ in serial numbers;
* sets the letters a little tighter: the source is spaced for screens, a certificate is printed;
* scales to 1000 units an em, the unit of PDF, so that every width is a whole number;
* drops hinting, layout tables and all names but our own ("Ohmleaf Sans").

Same input, same bytes: the dates in the files are fixed.
"""
import sys
from pathlib import Path

from fontTools.fontBuilder import FontBuilder
from fontTools.misc.transform import Transform
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.pens.transformPen import TransformPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

UNITS = 1000
TRACKING = -10  # added to every advance that is not zero
FEATURES = ("cv05", "tnum")  # l with a tail; tabular digits
MAX_ERROR = 0.35  # of the curve conversion, in thousandths of an em
EPOCH_1904 = 2082844800  # the 'head' table counts seconds from 1904
FIXED_DATE = EPOCH_1904 + 1577836800  # 2020-01-01
FAMILY = "Ohmleaf Sans"
SOURCE = Path("/usr/share/fonts/opentype/inter")
FACES = [  # source, result, style, weight, italic angle
    ("Inter-Regular.otf", "OhmleafSans-Regular.ttf", "Regular", 400, 0),
    ("Inter-SemiBold.otf", "OhmleafSans-Bold.ttf", "Bold", 700, 0),
    ("Inter-Italic.otf", "OhmleafSans-Italic.ttf", "Italic", 400, -9.4),
]


def wanted():
    """Code points, where the source has them. U+00AD is left out: it is never printed."""
    chars = set(range(0x20, 0x7F)) | (set(range(0xA0, 0x180)) - {0xAD})
    chars |= set(range(0x1CD, 0x1DD)) | set(range(0x1E6, 0x1EE)) | set(range(0x1F8, 0x21C))
    chars |= {0x192, 0x218, 0x219, 0x21A, 0x21B, 0x237, 0x2BC, 0x2C6, 0x2C7}
    chars |= set(range(0x2D8, 0x2DE))
    chars |= set(range(0x1E00, 0x1F00))  # Welsh, Irish, Vietnamese
    chars |= set(range(0x384, 0x3CF))  # Greek
    chars |= {0x2010, 0x2011, 0x2012, 0x2013, 0x2014, 0x2018, 0x2019, 0x201A, 0x201C, 0x201D}
    chars |= {0x201E, 0x2020, 0x2021, 0x2022, 0x2026, 0x2030, 0x2032, 0x2033, 0x2039, 0x203A}
    chars |= {0x2009, 0x200A, 0x202F, 0x2044}
    chars |= {0x2070} | set(range(0x2074, 0x208F)) - {0x2071}
    chars |= {0x20AC, 0x2103, 0x2116, 0x2122, 0x2126, 0x212E}
    chars |= set(range(0x2150, 0x215F)) | {0x2189}
    chars |= set(range(0x2190, 0x219A)) | {0x21D2, 0x21D4}
    chars |= {0x2202, 0x2206, 0x220F, 0x2211, 0x2212, 0x2215, 0x2219, 0x221A, 0x221E, 0x2225}
    chars |= {0x222B, 0x2248, 0x2260, 0x2261, 0x2264, 0x2265, 0x2300}
    chars |= {0x25A0, 0x25A1, 0x25B2, 0x25B3, 0x25BC, 0x25BD, 0x25CB, 0x25CF, 0x2610, 0x2611}
    chars |= {0x2713, 0x2717, 0xFB01, 0xFB02}
    return sorted(chars)


# The same letter under a second code point: after NFC only the first is left, so they share.
CANONICAL = {0x2126: 0x03A9}
# Characters that look the same but are kept apart, so that they come out as they went in.
LOOKS_LIKE = {0x00A0: 0x20, 0x2011: 0x2D, 0x202F: 0x2009}


def substituted(font):
    """Code points whose glyph is another with our features applied: the digits, l and its kin."""
    swap = {}
    gsub = font["GSUB"].table
    for record in gsub.FeatureList.FeatureRecord:
        if record.FeatureTag not in FEATURES:
            continue
        for index in record.Feature.LookupListIndex:
            for table in gsub.LookupList.Lookup[index].SubTable:
                swap.update(getattr(table, "ExtSubTable", table).mapping)
    # Points and commas stay narrow: as wide as a digit they would tear readings apart.
    return {code: swap[name] for code, name in font.getBestCmap().items()
            if name in swap and chr(code) not in ".,:;"}


def outline(glyphs, name, scale):
    """The outline of one glyph: decomposed, scaled, quadratic."""
    recording = DecomposingRecordingPen(glyphs)
    glyphs[name].draw(recording)
    pen = TTGlyphPen(None)
    quadratic = Cu2QuPen(pen, MAX_ERROR, reverse_direction=True)
    recording.replay(TransformPen(quadratic, Transform(scale, 0, 0, scale, TRACKING / 2, 0)))
    return pen.glyph()


def choose(font):
    """Pairs (code point, glyph name in the source), in code point order."""
    cmap = dict(font.getBestCmap())
    cmap.update(substituted(font))
    for code, like in LOOKS_LIKE.items():
        if code not in cmap and like in cmap:
            cmap[code] = cmap[like]
    return [(code, cmap[code]) for code in wanted() if code in cmap and code not in CANONICAL]


def build(source, target, style, weight, angle):
    font = TTFont(source)
    scale = UNITS / font["head"].unitsPerEm
    glyphs = font.getGlyphSet()
    chosen = choose(font)
    names = [".notdef"] + [f"u{code:04X}" for code, _ in chosen]
    sources = [font.getGlyphOrder()[0]] + [name for _, name in chosen]
    shapes = {new: outline(glyphs, old, scale) for new, old in zip(names, sources)}
    characters = {code: f"u{code:04X}" for code, _ in chosen}
    characters.update({code: f"u{to:04X}" for code, to in CANONICAL.items() if to in characters})

    builder = FontBuilder(UNITS, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap(characters)
    builder.setupGlyf(shapes)
    glyf = builder.font["glyf"]
    metrics = {}
    for new, old in zip(names, sources):
        advance = round(font["hmtx"][old][0] * scale)
        metrics[new] = (advance + TRACKING if advance else 0, getattr(glyf[new], "xMin", 0))
    # One digit of one source face is off by a thousandth: all take the widest one's advance.
    digits = [f"u{code:04X}" for code in range(0x30, 0x3A)]
    widest = max(metrics[digit][0] for digit in digits)
    metrics.update({digit: (widest, metrics[digit][1]) for digit in digits})
    builder.setupHorizontalMetrics(metrics)
    os2 = font["OS/2"]
    ascent, descent = round(font["hhea"].ascent * scale), round(font["hhea"].descent * scale)
    builder.setupHorizontalHeader(ascent=ascent, descent=descent)
    builder.setupOS2(
        sTypoAscender=ascent, sTypoDescender=descent, sTypoLineGap=0, usWinAscent=ascent,
        usWinDescent=-descent, sCapHeight=round(os2.sCapHeight * scale),
        sxHeight=round(os2.sxHeight * scale), usWeightClass=weight, fsType=0,
        fsSelection={"Regular": 0x40, "Bold": 0x20, "Italic": 0x01}[style])
    postscript = f"{FAMILY.replace(' ', '')}-{style}"
    builder.setupNameTable({
        "copyright": "Copyright (c) 2016-2022 The Inter Project Authors. Changed for ohmleaf.",
        "familyName": FAMILY, "styleName": style, "uniqueFontIdentifier": f"{postscript};1",
        "fullName": f"{FAMILY} {style}", "version": "Version 1.000", "psName": postscript,
        "licenseDescription": "SIL Open Font License, Version 1.1",
        "licenseInfoURL": "https://scripts.sil.org/OFL"}, mac=False)
    builder.setupPost(keepGlyphNames=False, italicAngle=angle)
    head = builder.font["head"]
    head.created = head.modified = FIXED_DATE
    head.fontRevision = 1.0
    head.macStyle = {"Regular": 0, "Bold": 1, "Italic": 2}[style]
    builder.font.recalcTimestamp = False
    cmap = builder.font["cmap"]
    cmap.tables = [t for t in cmap.tables if (t.platformID, t.format) == (3, 4)]
    builder.font.save(target)


def main():
    """Optional arguments: the folder of the source fonts, the folder for the result."""
    source = Path(sys.argv[1]) if len(sys.argv) > 1 else SOURCE
    target = Path(sys.argv[2]) if len(sys.argv) > 2 else Path(__file__).resolve().parent
    for file, result, style, weight, angle in FACES:
        build(source / file, target / result, style, weight, angle)
        print(result, (target / result).stat().st_size, "bytes")


if __name__ == "__main__":
    main()
