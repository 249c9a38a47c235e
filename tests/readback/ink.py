"""All ink of a PDF as `mutool trace` tells it: strokes with their widths, filled polygons, glyphs.

In: the path of a PDF. Out: pages of Stroke, Polygon and Glyph in points from the upper left corner. Nothing of the
program is known here. Read next: measure.py.
"""
import subprocess
from dataclasses import dataclass, field

from page import Glyph, attributes, matrix, plain


@dataclass
class Stroke:
    width: float
    a: tuple
    b: tuple

    @property
    def upright(self):
        return abs(self.a[0] - self.b[0]) < 0.02 and abs(self.a[1] - self.b[1]) > 0.5

    @property
    def level(self):
        return abs(self.a[1] - self.b[1]) < 0.02 and abs(self.a[0] - self.b[0]) > 0.5

    @property
    def top(self):
        return min(self.a[1], self.b[1])

    @property
    def bottom(self):
        return max(self.a[1], self.b[1])


@dataclass
class Polygon:
    points: list
    white: bool


@dataclass
class Inked:
    number: int
    strokes: list = field(default_factory=list)
    polygons: list = field(default_factory=list)
    glyphs: list = field(default_factory=list)


class Reader:
    def __init__(self, text):
        self.pages = []
        self.mode, self.width, self.white = "", 0.0, False
        self.transform = [1, 0, 0, 1, 0, 0]
        self.path, self.curved = [], False
        self.font, self.size = "", 0.0
        for line in text.splitlines():
            self.take(line.strip())

    def take(self, line):
        if line.startswith("<page "):
            self.pages.append(Inked(int(attributes(line)["number"])))
        elif line.startswith(("<stroke_path", "<fill_path")):
            with_all = attributes(line)
            self.mode = "stroke" if line.startswith("<stroke") else "fill"
            self.transform = matrix(with_all["transform"])
            self.width = float(with_all.get("linewidth", 0)) * abs(self.transform[3])
            self.white = all(float(part) > 0.99 for part in with_all.get("color", "0").split())
        elif line.startswith(("</stroke_path", "</fill_path")):
            self.end_path()
            self.mode = ""
        elif self.mode and line.startswith("<moveto"):
            self.end_path()
            self.path, self.curved = [self.point(line)], False
        elif self.mode and line.startswith("<lineto"):
            self.line_to(self.point(line))
        elif self.mode and line.startswith("<curveto"):
            self.curved = True
        elif line.startswith("<span "):
            span = attributes(line)
            self.font, self.size = span["font"], matrix(span["trm"])[0]
        elif line.startswith("<g "):
            g = attributes(line)
            self.pages[-1].glyphs.append(Glyph(plain(g["unicode"]), float(g["x"]), float(g["y"]),
                                               float(g["adv"]) * self.size, self.size, self.font))

    def point(self, line):
        at = attributes(line)
        x, y = float(at["x"]), float(at["y"])
        a, b, c, d, e, f = self.transform
        return a * x + c * y + e, b * x + d * y + f

    def line_to(self, point):
        if self.mode == "stroke":
            self.pages[-1].strokes.append(Stroke(self.width, self.path[-1], point))
        self.path.append(point)

    def end_path(self):
        if self.mode == "fill" and len(self.path) >= 3 and not self.curved:
            self.pages[-1].polygons.append(Polygon(self.path, self.white))
        self.path = []


def pages_of(pdf):
    trace = subprocess.run(["mutool", "trace", pdf], check=True, capture_output=True, text=True).stdout
    return Reader(trace).pages
