"""Makes the small web faces (WOFF2) from the TrueType files beside this script.

Needs fonttools and brotli from PyPI. Run in this directory: python3 make_web.py
The license reserves the font's name for unmodified files, so the subsets are renamed to "Sheet Sans".
"""

from fontTools import subset
from fontTools.ttLib import TTFont

FACES = {"Regular": "regular", "It": "italic", "Semibold": "strong"}
# Latin with its accents, Greek, and the signs of the trade.
RANGES = [(0x20, 0x7E), (0xA0, 0x17F), (0x391, 0x3A9), (0x3B1, 0x3C9), (0x2010, 0x2026), (0x2190, 0x2193)]
SIGNS = "\u2032\u2033\u2044\u2080\u2081\u2082\u2083\u2126\u2202\u2206\u2211\u2212\u2215\u221a\u221e\u2248\u2260\u2264\u2265\u25a0\u25a1\u25cb\u25cf\u25b2\u25b3"


def main():
    unicodes = [code for low, high in RANGES for code in range(low, high + 1)] + [ord(sign) for sign in SIGNS]
    for source, target in FACES.items():
        options = subset.Options(flavor="woff2", layout_features=["kern", "liga", "mark", "ccmp", "locl"], hinting=False)
        font = TTFont(f"SourceSans3-{source}.ttf", recalcTimestamp=False)
        subsetter = subset.Subsetter(options)
        subsetter.populate(unicodes=unicodes)
        subsetter.subset(font)
        for record in font["name"].names:
            if record.nameID in (1, 3, 4, 6, 16):
                record.string = f"SheetSans-{target}" if record.nameID == 6 else "Sheet Sans"
        font.flavor = "woff2"
        font.save(f"SheetSans-{target}.woff2")


main()
