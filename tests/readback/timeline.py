"""Reads what `tunesheaf phase timeline` prints.

In: the text of the phase. Out: a Song with what the printed page must show of it. Nothing of the page is known here.
Read next: page.py, readback.py.
"""
import re
from dataclasses import dataclass, field
from fractions import Fraction

QUOTED = re.compile(r'"((?:[^"\\]|\\.)*)"')


def unquoted(text):
    """The first quoted text of a line."""
    return re.sub(r"\\(.)", r"\1", QUOTED.search(text).group(1))


@dataclass
class Part:
    name: str
    strings: int = 0
    tab: bool = False
    notation: bool = False


@dataclass
class Column:
    """What stands on one vertical of a tab staff: string to figure; `grace` figures stand before the beat."""

    at: tuple
    when: Fraction  # `at` counted from the beginning of the section
    grace: bool = False
    figures: dict = field(default_factory=dict)
    tied: dict = field(default_factory=dict)
    ends: dict = field(default_factory=dict)  # by string: when the event ends that attacks or holds it, as `when`
    again: dict = field(default_factory=dict)  # of a strum that repeats the figures before it: a slash says it
    touched: dict = field(default_factory=dict)  # by string: the fret where an artificial harmonic is touched
    aside: dict = field(default_factory=dict)  # by string: figures that may follow in parentheses (release, trill)


@dataclass
class Section:
    name: str
    letter: str
    video: str = ""
    says: str = ""
    remarks: list = field(default_factory=list)
    chords: list = field(default_factory=list)
    tabs: list = field(default_factory=list)  # (index of the part, its columns), in order of the parts


@dataclass
class Song:
    title: str = ""
    by: str = ""
    video: str = ""
    language: str = ""
    parts: list = field(default_factory=list)
    sections: list = field(default_factory=list)


def fret_of(line):
    return re.search(r" fret (-?\d+)", line).group(1)


def figure_of(line):
    """The figure of a note: a cross when dead, the fret otherwise, with the marks of ghosts and natural harmonics."""
    fret = fret_of(line)
    if " dead" in line:
        return "x"
    if " harmonic natural" in line:
        fret = "<" + fret + ">"
    return "(" + fret + ")" if " ghost" in line else fret


def bends_back(line):
    """Whether a note is bent and released again."""
    heights = [Fraction(h) for h in re.findall(r" bend@[\d/]+=(-?[\d/]+)", line)]
    return any(b < a for a, b in zip(heights, heights[1:])) or (" prebend" in line and Fraction(0) in heights)


class Reader:
    def __init__(self, text):
        self.song = Song()
        self.music = None
        self.at = None
        self.bars = {}  # number of a bar to where it begins in the section
        self.bars_end = Fraction(0)
        self.lasts = Fraction(0)  # of the event in hand
        self.slash = False  # a strum among written notes: figures at its first stroke, then slashes
        self.muted = False  # a muted strum is a slash without figures
        self.strummed = {}  # string to figure: what the strums of this voice have shown last
        self.strum = {}  # string to figure: the strum in hand
        for line in text.splitlines():
            self.take(line)
        for section in self.song.sections:
            section.tabs = [(part, self.sorted(columns)) for part, columns in section.tabs if columns]

    def take(self, line):
        words = line.split(maxsplit=1)
        if not words:
            return
        indent = len(line) - len(line.lstrip(" "))
        if indent < 10:
            self.end_strum()
        if indent == 0:
            self.top(words[0], line)
        elif indent == 2:
            self.in_section(words[0], line)
        elif indent == 6 and ":" in words[0]:
            bar, onset = words[0].split(":")
            self.at = (int(bar), Fraction(onset))
            self.lasts = Fraction(re.search(r" for ([\d/]+)", line).group(1))
        elif indent == 4:
            self.strummed = {}
        elif indent == 8:
            self.slash = words[0] == "slash"
            self.muted = re.search(r" muted( |$)", line.split('"')[0]) is not None
            if not self.slash:
                self.strummed = {}
        elif indent == 10 and self.music is not None and " string " in line:
            if not self.slash:
                self.note(words[0] == "grace", line)
            elif not self.muted and words[0] == "note":
                self.strum[int(re.search(r" string (\d+)", line).group(1))] = figure_of(line)

    def when(self):
        return self.bars[self.at[0]] + self.at[1]

    def end_strum(self):
        """A strum prints its figures unless those printed last hold all of them: then a slash."""
        if self.strum and self.music is not None:
            column = self.music.setdefault((self.at, 1), Column(self.at, self.when()))
            if self.strum.items() <= self.strummed.items():
                column.again.update(self.strum)
            else:
                column.figures.update(self.strum)
                self.strummed = self.strum
        self.strum = {}

    def top(self, word, line):
        song = self.song
        if word == "song":
            song.title = unquoted(line)
        elif word in ("by", "video") and not song.sections:
            setattr(song, word, unquoted(line))
        elif word == "language":
            song.language = line.split()[1]
        elif word == "part":
            tuning = re.search(r' tuning "([^"]*)"', line)
            strings = len(tuning.group(1).split()) if tuning else 0
            shown = QUOTED.sub("", line).split()
            song.parts.append(Part(unquoted(line), strings, "tab" in shown, "notation" in shown))
        elif word == "section":
            self.section(line)

    def section(self, line):
        letter = re.search(r'" letter (\S+) times', line).group(1)
        video = re.search(r" video (\S+)", line)
        says = re.search(r' says ("(?:[^"\\]|\\.)*")', line)
        self.music = None
        self.bars, self.bars_end = {}, Fraction(0)
        self.song.sections.append(
            Section(unquoted(line), letter, video.group(1) if video else "", unquoted(says.group(1)) if says else ""))

    def in_section(self, word, line):
        if not self.song.sections:
            return
        section = self.song.sections[-1]
        if word == "bar":
            bar = re.match(r" *bar (\d+) number \S+ length ([\d/]+)", line)
            self.bars[int(bar.group(1))] = self.bars_end
            self.bars_end += Fraction(bar.group(2))
        elif word == "remark":
            section.remarks.append(unquoted(line))
        elif word == "harmony" and " name " in line:
            section.chords.append(unquoted(line[line.index(" name "):]))
        elif word == "part":
            index = [p.name for p in self.song.parts].index(unquoted(line))
            shown = self.song.parts[index].tab and not line.endswith(" strummed")
            self.music = {} if shown else None
            if shown:
                section.tabs.append((index, self.music))

    def note(self, grace, line):
        string = int(re.search(r" string (\d+)", line).group(1))
        if grace:
            column = self.music.setdefault((self.at, 0), [])
            column.append(Column(self.at, self.when(), True, {string: figure_of(line)}))
            return
        column = self.music.setdefault((self.at, 1), Column(self.at, self.when()))
        column.ends[string] = self.when() + self.lasts
        if " tied" in line:
            column.tied[string] = figure_of(line)
        else:
            column.figures[string] = figure_of(line)
        touch = re.search(r" touch (\d+)", line)
        if touch and " harmonic natural" not in line:
            column.touched[string] = touch.group(1)
        trill = re.search(r" trill (\d+)", line)
        column.aside[string] = ([trill.group(1)] if trill else []) + ([fret_of(line)] if bends_back(line) else [])

    @staticmethod
    def sorted(columns):
        flat = []
        for key in sorted(columns):
            flat += columns[key] if isinstance(columns[key], list) else [columns[key]]
        return [column for column in flat if column.figures or column.tied or column.again]


def read(text):
    return Reader(text).song
