"""Reads the pages of a PDF with `mutool trace`: horizontal lines, staves, and figures that stand on their lines.

In: the path of a PDF. Out: its tab staves in reading order, each with its figures (string, text, x). It knows only
general practice: a tab staff has as many lines as the instrument has strings, evenly spaced, at one distance through
the handout; a figure stands on its line. Read next: readback.py.
"""
import re
import statistics
import subprocess
from dataclasses import dataclass, field

FIGURE = re.compile(r"^\(?<?(\d+|x)>?\)?$")


@dataclass
class Glyph:
    text: str
    x: float
    y: float
    advance: float
    size: float
    font: str


@dataclass
class Figure:
    string: int
    text: str
    x: float
    size: float


@dataclass
class Staff:
    page: int
    left: float
    right: float
    lines: list
    figures: list = field(default_factory=list)

    @property
    def gap(self):
        return (self.lines[-1] - self.lines[0]) / (len(self.lines) - 1)


@dataclass
class Page:
    number: int
    lines: list = field(default_factory=list)   # (y, left, right)
    glyphs: list = field(default_factory=list)


def attributes(line):
    return dict(re.findall(r'(\w+)="([^"]*)"', line))


def plain(text):
    return (text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", '"').replace("&apos;", "'")
            .replace("&amp;", "&"))


def matrix(text):
    return [float(number) for number in text.split()]


class Trace:
    """One pass over the trace; strokes and glyphs are kept in points from the page's upper left corner."""

    def __init__(self, text):
        self.pages = []
        self.stroking = False
        self.pen = (0.0, 0.0)
        self.font, self.size = "", 0.0
        for line in text.splitlines():
            self.take(line.strip())

    def take(self, line):
        if line.startswith("<page "):
            self.pages.append(Page(int(attributes(line)["number"])))
        elif line.startswith("<stroke_path"):
            self.stroking = True
            self.transform = matrix(attributes(line)["transform"])
        elif line.startswith("</stroke_path"):
            self.stroking = False
        elif self.stroking and line.startswith("<moveto"):
            self.pen = self.point(line)
        elif self.stroking and line.startswith("<lineto"):
            self.line_to(self.point(line))
        elif line.startswith("<span "):
            span = attributes(line)
            self.font, self.size = span["font"], matrix(span["trm"])[0]
        elif line.startswith("<g "):
            g = attributes(line)
            glyph = Glyph(plain(g["unicode"]), float(g["x"]), float(g["y"]), float(g["adv"]) * self.size, self.size,
                          self.font)
            self.pages[-1].glyphs.append(glyph)

    def point(self, line):
        at = attributes(line)
        x, y = float(at["x"]), float(at["y"])
        a, b, c, d, e, f = self.transform
        return a * x + c * y + e, b * x + d * y + f

    def line_to(self, point):
        if abs(point[1] - self.pen[1]) < 0.01:
            left, right = sorted((self.pen[0], point[0]))
            self.pages[-1].lines.append((point[1], left, right))
        self.pen = point


def runs_of(lines):
    """Lines of the same left and right end, one under the other."""
    together = {}
    for y, left, right in sorted(set(lines)):
        if right - left > 20:
            together.setdefault((round(left, 1), round(right, 1)), []).append(y)
    return together


def even_runs(heights):
    """Heights cut where their distance changes; the last of a run too short for a staff may begin the next."""
    runs = [[]]
    for y in heights:
        run = runs[-1]
        if len(run) >= 2 and abs((y - run[-1]) - (run[1] - run[0])) >= 0.05:
            runs.append(run[-1:] if len(run) < 4 else [])
        runs[-1].append(y)
    return runs


def staves_of(page):
    """Runs of four or more evenly spaced lines, far longer than they are apart (which chord boxes are not)."""
    found = []
    for (left, right), heights in runs_of(page.lines).items():
        for run in even_runs(heights):
            if len(run) >= 4 and right - left > 8 * (run[1] - run[0]):
                found.append(Staff(page.number, left, right, run))
    return sorted(found, key=lambda staff: (staff.page, staff.lines[0], staff.left))


def texts_of(glyphs):
    """Glyphs that follow each other on one line without a gap, joined."""
    joined = []
    for glyph in glyphs:
        last = joined[-1] if joined else None
        if (last and last.font == glyph.font and last.y == glyph.y and last.size == glyph.size
                and abs(last.x + last.advance - glyph.x) < 0.12 * glyph.size):
            last.text += glyph.text
            last.advance = glyph.x + glyph.advance - last.x
        else:
            joined.append(Glyph(**vars(glyph)))
    return joined


def figure_on(staff, text):
    """The figure that a text is on a staff, or None. Its middle stands about a third of its size over the baseline."""
    middle = text.y - 0.33 * text.size
    x = text.x + text.advance / 2
    nearest = min(range(len(staff.lines)), key=lambda i: abs(staff.lines[i] - middle))
    if abs(staff.lines[nearest] - middle) > 0.22 * text.size or not staff.left <= x <= staff.right:
        return None
    return Figure(nearest + 1, text.text, x, text.size)


def tab_spacing(staves):
    """The distance of tab lines, whatever a style makes it: of all distances, that of the staves with most figures."""
    alike = {}
    for staff in staves:
        gap = next((gap for gap in alike if abs(staff.gap - gap) < 0.03 * gap), staff.gap)
        alike[gap] = alike.get(gap, 0) + len(staff.figures)
    return max(alike, key=alike.get, default=0.0)


def tab_staves(path, counts, begin):
    """The tab staves of a PDF in reading order, for instruments with these numbers of strings, after the place `begin`
    (page, height), where the first section starts."""
    trace = subprocess.run(["mutool", "trace", path], check=True, capture_output=True, text=True).stdout
    pages = Trace(trace).pages
    staves = [staff for page in pages for staff in staves_of(page) if (page.number, staff.lines[0]) > begin]
    staves = [staff for staff in staves if len(staff.lines) in counts]
    for page in pages:
        for text in texts_of(page.glyphs):
            if not FIGURE.match(text.text) or "Music" in text.font:
                continue
            for staff in staves:
                figure = figure_on(staff, text) if staff.page == page.number else None
                if figure:
                    staff.figures.append(figure)
    spacing = tab_spacing(staves)
    return [staff for staff in staves if abs(staff.gap - spacing) < 0.03 * spacing]


def turn_over(staves):
    """String 1 is the lowest line of a mirrored tab."""
    for staff in staves:
        for figure in staff.figures:
            figure.string = len(staff.lines) + 1 - figure.string


def columns_of(staff):
    """Figures of a staff by their vertical, left to right: lists of figures."""
    columns = []
    for figure in sorted(staff.figures, key=lambda f: (f.x, f.string)):
        if columns and abs(columns[-1][0].x - figure.x) < 0.7 and figure.string not in [f.string for f in columns[-1]]:
            columns[-1].append(figure)
        else:
            columns.append([figure])
    return columns


def main_size(staves):
    sizes = [figure.size for staff in staves for figure in staff.figures]
    return statistics.mode(sizes) if sizes else 0.0
