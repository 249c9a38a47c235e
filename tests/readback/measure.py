"""Measures the numbers of engraving in a finished PDF, with `mutool trace` alone.

Usage: measure.py PROGRAM SONG.yaml a4|letter
In: a song printed in the house style. Out: 0 when all that is a number keeps to its rule, 1 with a line for each
breach. The rules are those of common practice, in staff spaces (sp): staff lines 0.13 thick and even, ledger lines
0.16, stems 0.12 thick and 3.5 long, bar lines 0.16 and 0.5, beams 0.5 thick, 0.25 apart and no steeper than 1 sp,
tab lines 1.5 sp apart; no stroke under 0.2 mm, no type under 7 pt, white between two figures on one line of a tab.
Read next: ink.py.
"""
import argparse
import copy
import os
import statistics
import subprocess
import sys
import tempfile
from dataclasses import dataclass

from ink import pages_of
from page import even_runs

MM = 72 / 25.4
LEAST = 0.2 * MM - 0.01
HEADS = {"\U0001D157", "\U0001D158"}
LEAST_TYPE = 7.0 - 0.01
# The ink of a head within its glyph, as shares of the em (Noto Music): its left and right end, its middle over the
# baseline.
HEAD_LEFT, HEAD_RIGHT, HEAD_MIDDLE = 0.05, 0.347, 0.134


def head_box(glyph):
    """Left, right and middle height of a head's ink."""
    return (glyph.x + HEAD_LEFT * glyph.size, glyph.x + HEAD_RIGHT * glyph.size,
            glyph.y - HEAD_MIDDLE * glyph.size)


def joins(stroke, glyph, space):
    """Whether an upright stroke stands at a side of a head."""
    left, right, middle = head_box(glyph)
    beside = min(abs(stroke.a[0] - left), abs(stroke.a[0] - right)) < 0.15 * space
    return beside and stroke.top - 0.4 * space < middle < stroke.bottom + 0.4 * space


@dataclass
class Staff:
    page: int
    left: float
    right: float
    lines: list
    width: float

    @property
    def gap(self):
        return (self.lines[-1] - self.lines[0]) / (len(self.lines) - 1)

    @property
    def middle(self):
        return (self.lines[0] + self.lines[-1]) / 2


def staves_of(page):
    """Even runs of four lines or more of one length and thickness."""
    together = {}
    for stroke in page.strokes:
        if stroke.level and abs(stroke.a[0] - stroke.b[0]) > 40:
            left, right = sorted((stroke.a[0], stroke.b[0]))
            together.setdefault((round(left, 1), round(right, 1), round(stroke.width, 2)), set()).add(stroke.a[1])
    found = []
    for (left, right, width), heights in together.items():
        for run in even_runs(sorted(heights)):
            if len(run) >= 4 and right - left > 8 * (run[1] - run[0]):
                found.append(Staff(page.number, left, right, run, width))
    return sorted(found, key=lambda staff: (staff.lines[0], staff.left))


class Measure:
    """`counts` says how often each rule was measured: a rule that is never measured proves nothing."""

    def __init__(self, pages):
        self.pages = pages
        self.faults, self.counts = [], {}
        self.space = self.find_space()
        if not self.space:
            self.faults.append("no staff is found")
            return
        for page in pages:
            self.page(page)

    def find_space(self):
        """The distance of the lines of five-line staves, or of tab lines by their ratio."""
        five, other = [], []
        for page in self.pages:
            for staff in staves_of(page):
                (five if len(staff.lines) == 5 else other).append(round(staff.gap, 2))
        if five:
            return min(five)
        return statistics.mode(other) / 1.5 if other else 0.0

    def expect(self, rule, holds, page, place, sentence):
        self.counts[rule] = self.counts.get(rule, 0) + 1
        if not holds:
            self.faults.append(f"page {page.number} at {place[0]:.0f},{place[1]:.0f}: {rule}: {sentence}")

    def near(self, found, spaces, tolerance=0.03):
        """Whether a thickness is the rule's, which never goes under 0.2 mm."""
        return abs(found - max(spaces * self.space, 0.2 * MM)) <= tolerance

    def page(self, page):
        staves = staves_of(page)
        for staff in staves:
            self.staff(page, staff)
        self.strokes(page)
        self.type(page)
        self.bar_lines(page, staves)
        beams = self.beams(page)
        self.stems(page, [s for s in staves if len(s.lines) == 5 and abs(s.gap - self.space) < 0.05], beams)
        self.ledgers(page, staves)
        self.figures(page, staves)

    def staff(self, page, staff):
        place = (staff.left, staff.lines[0])
        self.expect("staff lines", self.near(staff.width, 0.13), page, place, f"{staff.width:.3f} pt thick")
        gaps = [b - a for a, b in zip(staff.lines, staff.lines[1:])]
        self.expect("even lines", max(gaps) - min(gaps) < 0.05, page, place, f"gaps {gaps}")
        if len(staff.lines) != 5 or abs(staff.gap - self.space) > 0.05:
            self.expect("tab lines", staff.gap / self.space > 1.49, page, place,
                        f"{staff.gap / self.space:.2f} sp apart")

    def strokes(self, page):
        for stroke in page.strokes:
            self.expect("least stroke", stroke.width >= LEAST, page, stroke.a, f"{stroke.width / MM:.3f} mm thick")

    def type(self, page):
        for glyph in page.glyphs:
            if "Music" not in glyph.font:
                self.expect("least type", glyph.size >= LEAST_TYPE, page, (glyph.x, glyph.y),
                            f"'{glyph.text}' in {glyph.size:.2f} pt")

    def bar_lines(self, page, staves):
        """Upright strokes from the top line of a staff to the bottom line of one."""
        tops = {round(s.lines[0], 1) for s in staves}
        bottoms = {round(s.lines[-1], 1) for s in staves}
        for stroke in page.strokes:
            if not stroke.upright or not close(stroke.top, tops) or not close(stroke.bottom, bottoms):
                continue
            self.expect("bar lines", self.near(stroke.width, 0.16) or self.near(stroke.width, 0.5), page, stroke.a,
                        f"{stroke.width:.3f} pt thick")

    def beams(self, page):
        """Polygons of four corners with two upright sides, longer than high."""
        found = []
        for polygon in page.polygons:
            corners = polygon.points[:-1] if polygon.points[0] == polygon.points[-1] else polygon.points
            if polygon.white or len(corners) != 4:
                continue
            corners = sorted(corners)
            (x0, a0), (x1, b0), (x2, a1), (x3, b1) = corners
            if abs(x0 - x1) > 0.02 or abs(x2 - x3) > 0.02 or x2 - x0 < 0.8 * self.space:
                continue
            left, right = sorted((a0, b0)), sorted((a1, b1))
            if abs((left[1] - left[0]) - (right[1] - right[0])) > 0.05:
                continue
            thick = left[1] - left[0]
            if not 0.3 * self.space < thick < 0.8 * self.space:
                continue
            if not any(s.upright and x0 - 0.4 < s.a[0] < x2 + 0.4 and
                       (within(s.top, left, right) or within(s.bottom, left, right)) for s in page.strokes):
                continue  # a rest or another block of ink: a beam has stems
            found.append((x0, x2, left, right))
            small = abs(thick - 0.5 * self.space) > 0.05  # grace notes and cues, drawn smaller throughout
            if small:
                self.expect("small beams", 0.3 < thick / self.space < 0.45, page, (x0, left[0]), f"{thick:.2f} pt")
                continue
            self.expect("beams", True, page, (x0, left[0]), "")
            self.expect("beam slopes", abs(left[0] - right[0]) <= 1.02 * self.space, page, (x0, left[0]),
                        f"{abs(left[0] - right[0]) / self.space:.2f} sp")
        self.beam_gaps(page, found)
        return found

    def beam_gaps(self, page, beams):
        for i, (a0, a1, a_left, a_right) in enumerate(beams):
            for b0, b1, b_left, b_right in beams[i + 1:]:
                if abs(a0 - b0) > 0.02 and abs(a1 - b1) > 0.02:
                    continue
                ours, theirs = (a_left, b_left) if abs(a0 - b0) <= 0.02 else (a_right, b_right)
                white = max(theirs[0] - ours[1], ours[0] - theirs[1])
                if white < self.space and ours[1] - ours[0] > 0.45 * self.space:
                    self.expect("beam gaps", abs(white - 0.25 * self.space) < 0.06, page, (a0, ours[0]),
                                f"{white / self.space:.2f} sp")

    def stems(self, page, staves, beams):
        heads = [g for g in page.glyphs if "Music" in g.font and g.text in HEADS]
        if not heads:
            return
        full = max(g.size for g in heads)
        heads = [g for g in heads if g.size > 0.95 * full]
        for stroke in page.strokes:
            if not stroke.upright or not self.near(stroke.width, 0.12, 0.02):
                continue
            own = [g for g in heads if joins(stroke, g, self.space)]
            near = [s for s in staves if s.left < stroke.a[0] < s.right]
            if not own or not near:
                continue
            staff = min(near, key=lambda s: abs(s.middle - own[0].y))
            if abs(staff.middle - own[0].y) < 6 * self.space:
                self.stem(page, stroke, own, staff, beams)

    def stem(self, page, stroke, heads, staff, beams):
        middles = [head_box(g)[2] for g in heads]
        up = abs(stroke.bottom - max(middles)) < abs(stroke.top - min(middles))
        free = stroke.top if up else stroke.bottom
        near = min(middles) if up else max(middles)
        length = abs(free - near) / self.space
        place = (stroke.a[0], near)
        beamed = any(x0 - 0.3 < place[0] < x1 + 0.3 and min(l[0], r[0]) - 0.5 < free < max(l[1], r[1]) + 0.5
                     for x0, x1, l, r in beams)
        if beamed:
            self.expect("beamed stems", length >= 2.2, page, place, f"{length:.2f} sp long")
            return
        outside = near < staff.lines[0] + self.space if up else near > staff.lines[-1] - self.space
        self.expect("stems", length >= (2.45 if outside else 3.35), page, place, f"{length:.2f} sp long")
        reach = staff.middle - free if up else free - staff.middle
        self.expect("stems reach the middle line", reach > -0.1 * self.space, page, place,
                    f"ends {-reach / self.space:.2f} sp short of it")

    def ledgers(self, page, staves):
        """Short level strokes at a multiple of the space outside a staff, about a head."""
        heads = [g for g in page.glyphs if "Music" in g.font and g.text in HEADS]
        for stroke in page.strokes:
            if not stroke.level or not 1.2 < abs(stroke.a[0] - stroke.b[0]) / self.space < 4:
                continue
            left, right = sorted((stroke.a[0], stroke.b[0]))
            boxes = [head_box(g) for g in heads]
            if any(left < x0 and x1 < right and abs(y - stroke.a[1]) < 0.6 * self.space for x0, x1, y in boxes):
                self.expect("ledger lines", self.near(stroke.width, 0.16), page, stroke.a, f"{stroke.width:.3f} pt")

    def figures(self, page, staves):
        """White between two figures on one line of a tab."""
        on_line = {}
        for glyph in page.glyphs:
            if "Music" in glyph.font or not glyph.text.isdigit():
                continue
            for index, staff in enumerate(staves):
                if len(staff.lines) == 5 and abs(staff.gap - self.space) < 0.05:
                    continue
                middle = glyph.y - 0.33 * glyph.size
                line = min(staff.lines, key=lambda y: abs(y - middle))
                if abs(line - middle) < 0.12 * glyph.size and staff.left < glyph.x < staff.right:
                    on_line.setdefault((index, line), []).append(glyph)
        for glyphs in on_line.values():
            glyphs.sort(key=lambda g: g.x)
            for a, b in zip(glyphs, glyphs[1:]):
                white = b.x - a.x - a.advance
                if abs(white) < 0.03 * a.size:  # one number
                    continue
                self.expect("gaps of figures", white > 0.1 * self.space, page, (a.x, a.y), f"{white:.2f} pt")


def within(y, left, right):
    return min(left[0], right[0]) - 0.4 < y < max(left[1], right[1]) + 0.4


def close(y, heights):
    return any(abs(y - h) < 0.11 for h in heights)


def bites(pages):
    """Each rule, with one measure of the page spoilt, must find a fault; returns those that do not."""
    silent = []
    for what, spoil in SPOILERS.items():
        spoilt = copy.deepcopy(pages)
        if spoil(spoilt) and not Measure(spoilt).faults:
            silent.append(what)
    return silent


def spoil_first(pages, pick, change):
    for page in pages:
        for thing in pick(page):
            change(thing)
            return True
    return False


def stem_candidates(page):
    heads = [g for g in page.glyphs if "Music" in g.font and g.text in HEADS]
    full = max((g.size for g in heads), default=0)
    return [s for s in page.strokes if s.upright and s.width < 0.7
            and any(joins(s, g, g.size * 0.244) for g in heads if g.size == full)]


def shorten_stem(pages):
    """The free ends of all stems are brought to a third of their length from the head."""
    found = False
    for page in pages:
        heads = [head_box(g)[2] for g in page.glyphs if "Music" in g.font and g.text in HEADS]
        for stroke in stem_candidates(page):
            up = min(abs(stroke.bottom - y) for y in heads) < min(abs(stroke.top - y) for y in heads)
            top, bottom, x = stroke.top, stroke.bottom, stroke.a[0]
            third = (bottom - top) / 3
            stroke.a, stroke.b = ((x, bottom - third), (x, bottom)) if up else ((x, top), (x, top + third))
            found = True
    return found


def thicken_staff(pages):
    for page in pages:
        for staff in staves_of(page):
            for stroke in page.strokes:
                if stroke.level and stroke.a[1] in staff.lines:
                    stroke.width = 1.5
            return True
    return False


SPOILERS = {
    "a thin stroke": lambda pages: spoil_first(pages, lambda p: p.strokes, lambda s: setattr(s, "width", 0.3)),
    "small type": lambda pages: spoil_first(pages, lambda p: [g for g in p.glyphs if "Music" not in g.font],
                                            lambda g: setattr(g, "size", 5.0)),
    "thick staff lines": thicken_staff,
    "a short stem": shorten_stem,
}


def main():
    parser = argparse.ArgumentParser(description="Measures the numbers of engraving in a finished PDF.")
    parser.add_argument("program")
    parser.add_argument("song")
    parser.add_argument("paper", choices=["a4", "letter"])
    wanted = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        pdf = os.path.join(folder, "page.pdf")
        done = subprocess.run([wanted.program, "handout", wanted.song, "--paper", wanted.paper, "-o", pdf],
                              capture_output=True, text=True)
        if done.returncode != 0:
            print(done.stderr)
            return 1
        pages = pages_of(pdf)
    measured = Measure(pages)
    for fault in measured.faults:
        print(fault)
    for what in bites(pages) if not measured.faults else []:
        measured.faults.append(what)
        print(f"{what} is not noticed")
    print(f"one space is {measured.space:.2f} pt; measured: " +
          ", ".join(f"{count} {rule}" for rule, count in sorted(measured.counts.items())))
    return 1 if measured.faults else 0


if __name__ == "__main__":
    sys.exit(main())
