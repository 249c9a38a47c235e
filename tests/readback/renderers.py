"""Draws a finished PDF with two renderers and compares; then in pure black and white.

Usage: renderers.py PROGRAM SONG.yaml a4|letter [--style STYLE]
In: a song. Out: 0 when poppler and mupdf draw the same pages (at 150 dpi the means of no block of 8 by 8 dots differ by
more than 40 of 255) and when a threshold at half grey leaves everything on the page: every glyph and every stroke that
the file names has black dots in its place. Read next: ink.py.
"""
import argparse
import os
import struct
import subprocess
import sys
import tempfile

from ink import pages_of

DPI = 150
BLOCK = 8
MOST = 40


def netpbm(path):
    """Width, height and rows of a grey picture (netpbm P5, eight bits)."""
    with open(path, "rb") as file:
        data = file.read()
    words, at = [], 0
    while len(words) < 4:
        end = at
        while data[end:end + 1] not in (b" ", b"\n", b"\t", b"\r"):
            end += 1
        if data[at:at + 1] == b"#":
            end = data.index(b"\n", at)
        elif end > at:
            words.append(data[at:end])
        at = end + 1
    width, height = int(words[1]), int(words[2])
    return width, height, [data[at + y * width:at + (y + 1) * width] for y in range(height)]


def tiff(path):
    """The same for an uncompressed grey TIFF 6.0 of one sample a dot."""
    with open(path, "rb") as file:
        data = file.read()
    order = "<" if data[:2] == b"II" else ">"
    first = struct.unpack_from(order + "I", data, 4)[0]
    tags = {}
    for i in range(struct.unpack_from(order + "H", data, first)[0]):
        tag, kind, count = struct.unpack_from(order + "HHI", data, first + 2 + 12 * i)
        letter = {1: "B", 3: "H", 4: "I"}.get(kind)
        if letter is None:
            continue
        size = struct.calcsize(order + letter) * count
        at = first + 10 + 12 * i if size <= 4 else struct.unpack_from(order + "I", data, first + 10 + 12 * i)[0]
        tags[tag] = struct.unpack_from(order + letter * count, data, at)
    width, height = tags[256][0], tags[257][0]
    strips = b"".join(data[at:at + count] for at, count in zip(tags[273], tags[279]))
    return width, height, [strips[y * width:(y + 1) * width] for y in range(height)]


def draw(pdf, folder):
    """The pages as each renderer draws them. Poppler draws through cairo, which puts ink where the file says; its other
    back end moves thin lines to whole dots."""
    def pictures(name, words, read):
        subprocess.run(words, check=True, capture_output=True)
        return [read(os.path.join(folder, f)) for f in sorted(os.listdir(folder)) if f.startswith(name)]

    return (pictures("poppler", ["pdftocairo", "-tiff", "-tiffcompression", "none", "-gray", "-r", str(DPI), pdf,
                                 os.path.join(folder, "poppler")], tiff),
            pictures("mupdf", ["mutool", "draw", "-q", "-r", str(DPI), "-c", "gray", "-o",
                               os.path.join(folder, "mupdf-%04d.pgm"), pdf], netpbm))


def worst_block(a, b):
    """The largest difference of the means of two blocks at one place, and the place in points."""
    worst, place = 0.0, (0, 0)
    width, height = min(a[0], b[0]), min(a[1], b[1])
    for top in range(0, height - BLOCK + 1, BLOCK):
        ours, theirs = a[2][top:top + BLOCK], b[2][top:top + BLOCK]
        if ours == theirs:
            continue
        for left in range(0, width - BLOCK + 1, BLOCK):
            difference = 0
            for row, other in zip(ours, theirs):
                one, two = row[left:left + BLOCK], other[left:left + BLOCK]
                if one != two:
                    difference += sum(one) - sum(two)
            if abs(difference) > worst:
                worst, place = abs(difference), (left * 72 / DPI, top * 72 / DPI)
    return worst / BLOCK ** 2, place


def black_dots(rows, left, top, right, bottom, dark_page):
    """Dots in a box (in points) that are ink after a threshold at half grey."""
    scale = DPI / 72
    x0, x1 = max(0, int(left * scale)), int(right * scale) + 1
    count = 0
    for row in rows[max(0, int(top * scale)):int(bottom * scale) + 1]:
        count += sum(1 for dot in row[x0:x1] if (dot >= 128) == dark_page)
    return count


def vanished(page, rows, dark_page):
    """What the file draws and a page of black and white does not show."""
    gone = []
    for glyph in page.glyphs:
        if not glyph.text.strip() or glyph.text in ("\u00ad", "\ufffd"):
            continue
        box = (glyph.x - 0.1 * glyph.size, glyph.y - glyph.size, glyph.x + max(glyph.advance, 0.3 * glyph.size),
               glyph.y + 0.4 * glyph.size)
        if black_dots(rows, *box, dark_page) == 0:
            gone.append(f"'{glyph.text}' at {glyph.x:.0f},{glyph.y:.0f}")
    for stroke in page.strokes:
        x0, x1 = sorted((stroke.a[0], stroke.b[0]))
        y0, y1 = sorted((stroke.a[1], stroke.b[1]))
        if max(x1 - x0, y1 - y0) < 1:
            continue
        reach = stroke.width / 2 + 0.3
        if black_dots(rows, x0 - reach, y0 - reach, x1 + reach, y1 + reach, dark_page) == 0:
            gone.append(f"a stroke of {stroke.width:.2f} pt at {x0:.0f},{y0:.0f}")
    return gone


def main():
    parser = argparse.ArgumentParser(description="Compares two renderers, and black and white.")
    parser.add_argument("program")
    parser.add_argument("song")
    parser.add_argument("paper", choices=["a4", "letter"])
    parser.add_argument("--style", default="house")
    wanted = parser.parse_args()
    faults = []
    with tempfile.TemporaryDirectory() as folder:
        pdf = os.path.join(folder, "page.pdf")
        done = subprocess.run([wanted.program, "handout", wanted.song, "--paper", wanted.paper, "--style", wanted.style,
                               "-o", pdf], capture_output=True, text=True)
        if done.returncode != 0:
            print(done.stderr)
            return 1
        pages = pages_of(pdf)
        poppler, mupdf = draw(pdf, folder)
    if not len(pages) == len(poppler) == len(mupdf):
        faults.append(f"{len(pages)} pages, {len(poppler)} and {len(mupdf)} pictures")
    most = 0.0
    for page, one, other in zip(pages, poppler, mupdf):
        worst, place = worst_block(one, other)
        most = max(most, worst)
        if worst > MOST:
            faults.append(f"page {page.number} at {place[0]:.0f},{place[1]:.0f}: the renderers differ by {worst:.0f}")
        dark_page = one[2][0][0] < 128
        faults += [f"page {page.number}: {what} is gone in black and white" for what in vanished(page, one[2], dark_page)]
    # The check bites: a page shifted by a staff space is another page, and an empty one shows nothing.
    shifted = (poppler[0][0], poppler[0][1], [b"\xff" * poppler[0][0]] * 10 + poppler[0][2][:-10])
    if worst_block(poppler[0], shifted)[0] <= MOST:
        faults.append("a shifted page is not noticed")
    blank = [bytes([0 if dark_page else 255]) * poppler[0][0]] * poppler[0][1]
    if not vanished(pages[0], blank, dark_page):
        faults.append("an empty page is not noticed")
    for fault in faults[:20]:
        print(fault)
    print(f"{len(pages)} pages; the largest difference of a block is {most:.1f} of 255")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
