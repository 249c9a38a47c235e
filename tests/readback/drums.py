"""Reads the drum heads of a finished PDF back: the place and the kind of every head, bar by bar, against the Timeline.

Usage: drums.py PROGRAM SONG.yaml a4|letter
Needs mupdf-tools and qpdf. A bar that holds a sign of repetition is read as the bar (or the two bars) before it, so the
signs are proven too. In: a song with drums. Out: 0 when each head of the song stands on the page, and no other.
Read next: ink.py, measure.py.
"""
import argparse
import json
import os
import re
import subprocess
import sys
import tempfile
from dataclasses import dataclass, field

from ink import pages_of
from measure import head_box

KINDS = {"\U0001D158": "black", "\U0001D157": "black", "\U0001D145": "circle-cross", "\U0001D149": "triangle",
         "\U0001D148": "triangle", "\U0001D1BA": "diamond"}
ONE_BAR, TWO_BARS = "\U0001D10E", "\U0001D10F"


# ---------------------------------------------------------------- the song


@dataclass
class Section:
    title: str
    bars: int = 0
    parts: dict = field(default_factory=dict)  # name of a part to its bars: lists of columns, sets of (position, kind)


class Song:
    """What `tunesheaf phase timeline` says of drums."""

    def __init__(self, text):
        self.kits, self.sections = {}, []
        self.part, self.bar, self.onset = "", 0, None
        for line in text.splitlines():
            self.take(line)

    def take(self, line):
        words = line.split()
        if line.startswith("part "):
            self.part = re.search(r'"([^"]*)"', line).group(1)
        elif line.startswith("  drum ") and not self.sections:
            found = re.search(r'position (-?\d+) (\S+)', line)
            self.kits.setdefault(self.part, []).append((int(found.group(1)), found.group(2)))
        elif line.startswith("section "):
            letter = re.search(r'" letter (\S+) times', line).group(1)
            self.sections.append(Section(letter + re.search(r'"([^"]*)"', line).group(1)))
        elif line.startswith("  bar ") and self.sections:
            self.sections[-1].bars += 1
        elif line.startswith("  part ") and self.sections:
            self.part = re.search(r'"([^"]*)"', line).group(1)
        elif self.sections and re.match(r"      \d+:", line):
            bar, onset = words[0].split(":")
            above, _, below = onset.partition("/")
            self.bar, self.onset = int(bar), int(above) / int(below or 1)
        elif self.sections and re.match(r"          note drum ", line) and " tied" not in line:
            place = self.kits[self.part][int(words[2]) - 1]
            bars = self.sections[-1].parts.setdefault(self.part, {})
            bars.setdefault(self.bar, {}).setdefault(self.onset, set()).add(place)

    def bars(self, section, part):
        heads = section.parts[part]
        first = 1 if section.bars and 0 not in heads else 0
        return [[column for _, column in sorted(heads.get(bar, {}).items())]
                for bar in range(first, section.bars + first)]


# ---------------------------------------------------------------- the page


def heads_on(page, staff):
    """(x, position, kind) of each full-sized head: glyphs, and the outlines of crosses."""
    space = staff.gap
    found = []
    sizes = [g.size for g in page.glyphs if g.text in KINDS]
    for glyph in page.glyphs:
        if glyph.text in KINDS and glyph.size > 0.95 * max(sizes):
            left, right, middle = head_box(glyph)
            found.append(((left + right) / 2, middle, KINDS[glyph.text]))
    for polygon in page.polygons:
        xs, ys = [x for x, _ in polygon.points], [y for _, y in polygon.points]
        wide, high = (max(xs) - min(xs)) / space, (max(ys) - min(ys)) / space
        if len(polygon.points) == 12 and not polygon.white and 0.95 < wide < 1.25 and 0.8 < high < 1.1:
            found.append(((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, "cross"))
    out = []
    for x, y, kind in found:
        position = (staff.middle - y) / (space / 2)
        if staff.left < x < staff.right and abs(position) < 10:  # farther off it is another staff's
            out.append((x, position, kind))
    return sorted(out)


def bar_lines_of(page, staff):
    """The right edges of its bars: strokes about its middle, thicker than a stem; those that stand together are one. A
    thick one that leads such a group at the beginning opens a repeat and ends no bar."""
    strokes = sorted((s.a[0], s.width) for s in page.strokes
                     if s.upright and s.width > 0.14 * staff.gap and abs((s.top + s.bottom) / 2 - staff.middle) < 0.5
                     and s.top < staff.lines[0] + 0.3 and s.bottom > staff.lines[-1] - 0.3
                     and s.bottom - s.top > 1.8 * staff.gap and staff.left + 2 * staff.gap < s.a[0] < staff.right + 0.5)
    groups = []
    for x, width in strokes:
        if groups and x - groups[-1][-1][0] < 1.6 * staff.gap:
            groups[-1].append((x, width))
        else:
            groups.append([(x, width)])
    if groups and groups[0][0][1] > 0.3 * staff.gap and len(groups[0]) > 1 and groups[0][1][1] < 0.3 * staff.gap:
        groups = groups[1:]
    return [group[-1][0] for group in groups]


def columns(heads, space):
    out, last = [], None
    for x, position, kind in heads:
        if last is None or x - last > 0.75 * space:
            out.append(set())
            last = x
        out[-1].add((round(position), kind))
    return out


@dataclass
class PercussionStaff:
    left: float
    right: float
    lines: list
    middle: float
    gap: float  # one staff space


def percussion_staves(page):
    """Where the clef without a pitch stands, two upright blocks of two spaces side by side, is a staff of as many lines
    as lie about its middle."""
    blocks = []
    for polygon in page.polygons:
        xs, ys = [x for x, _ in polygon.points], [y for _, y in polygon.points]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        if len(polygon.points) in (4, 5) and not polygon.white and 0.19 < wide / max(high, 0.1) < 0.25:
            blocks.append((min(xs), min(ys), high))
    staves = []
    for x, y, high in sorted(blocks):
        pair = any(0 < other - x < high and abs(y - top) < 0.1 and abs(high - tall) < 0.1 for other, top, tall in blocks)
        space, middle = high / 2, y + high / 2
        lines = [s for s in page.strokes if s.level and abs(s.a[1] - middle) < 2.2 * space
                 and min(s.a[0], s.b[0]) < x < max(s.a[0], s.b[0]) and abs(s.a[0] - s.b[0]) > 8 * space]
        if pair and lines:
            staves.append(PercussionStaff(min(min(s.a[0], s.b[0]) for s in lines), max(max(s.a[0], s.b[0]) for s in lines),
                                          sorted({s.a[1] for s in lines}), middle, space))
    return sorted(staves, key=lambda staff: staff.middle)


class Drums:
    def __init__(self, song, pages, places):
        self.song, self.faults, self.compared = song, [], 0
        order = sorted(range(len(song.sections)), key=lambda i: places.get(song.sections[i].title, (0, 0)))
        staves = [(page, staff) for page in pages for staff in percussion_staves(page) if bar_lines_of(page, staff)]
        for n, index in enumerate(order):
            section = song.sections[index]
            begin = places.get(section.title, (0, 0))
            end = places.get(song.sections[order[n + 1]].title) if n + 1 < len(order) else (10**9, 0)
            own = [(p, s) for p, s in staves if begin <= (p.number, s.lines[-1]) and (p.number, s.lines[0]) < end]
            self.section(section, own)

    def section(self, section, staves):
        parts = [part for part in self.song.kits if part in section.parts]
        if not parts:
            return
        if len(staves) % len(parts) != 0 or not staves:
            self.faults.append(f"{section.title}: {len(staves)} percussion staves for {len(parts)} parts")
            return
        for k, part in enumerate(parts):
            read = []
            for page, staff in staves[k::len(parts)]:
                self.read_bars(page, staff, read)
            self.compare(section, part, read)

    def read_bars(self, page, staff, bars):
        heads = heads_on(page, staff)
        signs = [(g.x, g.text) for g in page.glyphs if g.text in (ONE_BAR, TWO_BARS)
                 and abs(g.y - staff.middle) < 4 * staff.gap and staff.left < g.x < staff.right]
        left = staff.left
        pending = 0  # bars that a sign on the bar line before has said already
        for end in bar_lines_of(page, staff):
            inside = [text for x, text in signs if left < x < end]
            on_line = any(text == TWO_BARS and abs(x - end) < 4 * staff.gap for x, text in signs)
            if pending:
                bars.append(list(bars[-2]))
                pending = 0
            elif ONE_BAR in inside:
                bars.append(list(bars[-1]) if bars else ["a sign of repetition with nothing before it"])
            elif on_line:
                bars.append(list(bars[-2]))
                pending = 1
            else:
                bars.append(columns([h for h in heads if left < h[0] < end], staff.gap))
            left = end

    def compare(self, section, part, read):
        wanted = self.song.bars(section, part)
        if len(read) != len(wanted):
            self.faults.append(f"{section.title}, {part}: {len(read)} bars on the page, {len(wanted)} in the song")
            return
        for number, (found, written) in enumerate(zip(read, wanted), 1):
            self.compared += sum(len(column) for column in written)
            if found != written:
                self.faults.append(f"{section.title}, {part}, bar {number}: the song has {written}, the page {found}")


def bookmarks(pdf, paper):
    held = json.loads(subprocess.run(["qpdf", "--json=1", pdf], capture_output=True, text=True).stdout)
    height = {"a4": 841.89, "letter": 792.0}[paper]
    numbers = {page["object"]: page["pageposfrom1"] for page in held["pages"]}
    return {re.sub(r"\s+", "", mark["title"]): (numbers[mark["dest"][0]], height - mark["dest"][3])
            for mark in held["outlines"]}


def main():
    parser = argparse.ArgumentParser(description="Reads the drum heads of a printed song back.")
    parser.add_argument("program")
    parser.add_argument("song")
    parser.add_argument("paper", choices=["a4", "letter"])
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        pdf = os.path.join(folder, "page.pdf")
        subprocess.run([wanted.program, "handout", wanted.song, "--paper", wanted.paper, "-o", pdf],
                       capture_output=True, check=True)
        text = subprocess.run([wanted.program, "phase", "timeline", wanted.song], capture_output=True, text=True).stdout
        song, pages, places = Song(text), pages_of(pdf), bookmarks(pdf, wanted.paper)
    for section in song.sections:
        section.title = re.sub(r"\s+", "", section.title)
    drums = Drums(song, pages, places)
    if not drums.faults and drums.compared:
        # The check bites: the same page with one head moved by a line is another page.
        for page in pages:
            for glyph in page.glyphs:
                glyph.y += 5 if glyph.text in KINDS else 0
        if not Drums(song, pages, places).faults:
            drums.faults.append("moved heads are not noticed")
    for fault in drums.faults[:20]:
        print(fault)
    written = sum(len(c) for s in song.sections for p in s.parts for b in song.bars(s, p) for c in b)
    print(f"{drums.compared} of {written} drum heads compared")
    return 1 if drums.faults or drums.compared != written or not written else 0


if __name__ == "__main__":
    sys.exit(main())
