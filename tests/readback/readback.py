"""Prints a song and reads the PDF back with general tools that know nothing of the program.

Usage: readback.py PROGRAM SONG.yaml a4|letter [--style STYLE] [--instrument INSTRUMENT]
With an instrument the song is first made by `tunesheaf new`. Needs qpdf, poppler-utils, mupdf-tools and zbar-tools.
Ends with 0 when the page says what the song says, 1 with one line for each difference otherwise.
"""
import argparse
import copy
import json
import os
import re
import subprocess
import sys
import tempfile

import timeline
from compare import Comparison
from page import main_size, tab_staves, turn_over


def run(*words, **more):
    return subprocess.run(words, capture_output=True, text=True, **more)


def squeezed(text):
    """Without blanks; accidentals and their kin as typed; hyphens at line ends gone."""
    for printed, typed in (("♭", "b"), ("♯", "#"), ("’", "'"), ("‘", "'"), ("“", '"'), ("”", '"'), ("\u00ad", "")):
        text = text.replace(printed, typed)
    return re.sub(r"[\s\u2010]+", "", text)


class Readback:
    def __init__(self, program, song_path, paper, style, folder):
        self.program, self.song_path, self.paper, self.folder = program, song_path, paper, folder
        self.style = ["--style", style] if style else []
        self.tab_only = bool(style) and says(style, "show staves: *tab")
        self.mirrored = bool(style) and says(style, "mirrored tab: *yes")
        self.pdf = os.path.join(folder, "page.pdf")
        self.faults = []
        self.notes = []

    def expect(self, holds, sentence):
        if not holds:
            self.faults.append(sentence)

    def all(self):
        if not self.print_twice():
            return
        self.song = timeline.read(run(self.program, "phase", "timeline", self.song_path).stdout)
        self.expect(self.song.sections, "the timeline could not be read")
        self.tools()
        self.document()
        self.words()
        self.square()
        self.tab()

    def print_to(self, path, **environment):
        done = run(self.program, "handout", self.song_path, "--paper", self.paper, *self.style, "-o", path,
                   env={**os.environ, **environment})
        self.expect(done.returncode == 0, f"handout ends with {done.returncode}: {done.stderr}")
        return done.returncode == 0

    def print_twice(self):
        """The same bytes, wherever and in whatever language the program runs."""
        other = os.path.join(self.folder, "other.pdf")
        home = os.path.join(self.folder, "home")
        os.mkdir(home)
        if not self.print_to(self.pdf, TZ="UTC", LANG="C"):
            return False
        self.print_to(other, TZ="Pacific/Chatham", LANG="tr_TR.UTF-8", LC_ALL="tr_TR.UTF-8", HOME=home,
                      XDG_CACHE_HOME=home)
        with open(self.pdf, "rb") as a, open(other, "rb") as b:
            self.expect(a.read() == b.read(), "two runs under other TZ, LANG and HOME differ")
        return True

    def tools(self):
        check = run("qpdf", "--check", self.pdf)
        self.expect(check.returncode == 0, "qpdf --check: " + check.stdout + check.stderr)
        rows = run("pdffonts", self.pdf).stdout.splitlines()[2:]
        self.expect(rows, "pdffonts names no font")
        for row in rows:
            embedded, subset, unicode = row.split()[-5:-2]
            self.expect((embedded, subset, unicode) == ("yes", "yes", "yes"), "pdffonts: " + row)
        sizes = re.search(r"Page size: +([\d.]+) x ([\d.]+)", run("pdfinfo", self.pdf).stdout)
        width, height = {"a4": (595.276, 841.89), "letter": (612, 792)}[self.paper]
        self.expect(abs(float(sizes[1]) - width) < 0.1 and abs(float(sizes[2]) - height) < 0.1,
                    "page size " + sizes[0])

    def document(self):
        """Title, author, language, bookmarks, links."""
        info = dict(line.split(":", 1) for line in run("pdfinfo", self.pdf).stdout.splitlines() if ":" in line)
        self.expect(info.get("Title", "").strip() == self.song.title, "pdfinfo: no title")
        self.expect(info.get("Author", "").strip() == self.song.by, "pdfinfo: no author")
        self.expect(info.get("Keywords", "").strip(), "pdfinfo: no keywords")
        self.expect(info.get("Tagged", "").strip() == "yes", "pdfinfo: not tagged")
        held = json.loads(run("qpdf", "--json=1", self.pdf).stdout)
        objects = held["objects"]
        root = objects[objects["trailer"]["/Root"]]
        self.expect(root.get("/Lang") == self.song.language, "the PDF names no language, or another one")
        self.bookmarks = self.outline(held)
        links = [o["/A"]["/URI"] for o in objects.values() if isinstance(o, dict) and "/A" in o and "/URI" in o["/A"]]
        for section in self.song.sections:
            if self.song.video and section.video:
                # A time in a link is a media fragment in whole seconds (W3C Media Fragments URI).
                seconds = str(int(eval_fraction(section.video)))
                self.expect(any(re.search(r"[#?&]t=" + seconds + r"(s|\b)", link) for link in links),
                            f"no link to the video at {seconds} s for section {section.name}; there are {links}")

    def outline(self, held):
        """The bookmarks as (page, height from the top, title), one per section."""
        heights = {"a4": 841.89, "letter": 792.0}
        numbers = {page["object"]: page["pageposfrom1"] for page in held["pages"]}
        marks = [(numbers[mark["dest"][0]], heights[self.paper] - mark["dest"][3], mark["title"])
                 for mark in held["outlines"]]
        titles = [squeezed(title) for _, _, title in marks]
        for section in self.song.sections:
            wanted = squeezed(section.letter + section.name)
            self.expect(wanted in titles, f"no bookmark for section {section.name}; there are {titles}")
        return {squeezed(title): (page, height) for page, height, title in marks}

    def words(self):
        boxes = run("pdftotext", "-raw", "-bbox", self.pdf, "-").stdout
        words = [squeezed(unescaped(w)) for w in re.findall(r"<word [^>]*>(.*?)</word>", boxes)]
        everything = "".join(words)
        wanted = [("title", self.song.title), ("writer", self.song.by)]
        for section in self.song.sections:
            wanted += [("section", section.name), ("says", section.says)]
            wanted += [("remark", remark) for remark in section.remarks]
        for what, text in wanted:
            self.expect(squeezed(text) in everything, f"the {what} cannot be read back: {text}")
        self.chords(words)

    def chords(self, words):
        """A chord name stands at least as often as the harmony comes to it."""
        counts = {}
        for section in self.song.sections:
            last = None
            for name in section.chords:
                if name != last:
                    counts[name] = counts.get(name, 0) + 1
                last = name
        for name, count in counts.items():
            read = sum(1 for word in words if word == squeezed(name))
            self.expect(read >= count, f"the chord {name} stands {count} times in the song, {read} times on the page")

    def square(self):
        if not self.song.video:
            return
        picture = os.path.join(self.folder, "first")
        run("pdftoppm", "-r", "150", "-l", "1", "-png", "-singlefile", self.pdf, picture)
        read = run("zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", picture + ".png").stdout.split("\n")
        self.expect(self.song.video in read, f"the square reads {read}")

    def place(self, section):
        return self.bookmarks.get(squeezed(section.letter + section.name), (0, 0.0))

    def tab(self):
        shown = {self.song.parts[part].strings for section in self.song.sections for part, _ in section.tabs}
        if not shown:
            return
        staves = tab_staves(self.pdf, shown, min(self.place(section) for section in self.song.sections))
        if self.mirrored:
            turn_over(staves)
        self.size = main_size(staves)
        total = 0
        for section, own in self.by_section(staves):
            total += self.section_tab(section, own)
        written = sum(len(column.figures) for s in self.song.sections for _, columns in s.tabs for column in columns)
        self.notes.append(f"{len(staves)} tab staves, {total} of {written} figures compared")
        self.expect(total == written, f"{total} figures compared, {written} are in the song")
        if not self.faults:
            self.the_check_bites(staves)

    def by_section(self, staves):
        """Each section's staves: those after its bookmark and before the next."""
        order = sorted(self.song.sections, key=self.place)
        for index, section in enumerate(order):
            begin = self.place(section)
            end = self.place(order[index + 1]) if index + 1 < len(order) else (10**9, 0.0)
            yield section, [s for s in staves if begin <= (s.page, s.lines[-1]) and (s.page, s.lines[0]) < end]

    def section_tab(self, section, staves):
        parts = [part for part, _ in section.tabs]
        strings = [self.song.parts[part].strings for part in parts]
        if not parts:
            self.expect(not staves, f"section {section.name} has tab staves and no figures")
            return 0
        systems = len(staves) // len(parts)
        if [len(staff.lines) for staff in staves] != strings * systems or systems == 0:
            self.expect(False, f"section {section.name}: staves of {[len(s.lines) for s in staves]} lines")
            return 0
        total = 0
        for index, (part, columns) in enumerate(section.tabs):
            where = f"section {section.name}, {self.song.parts[part].name}"
            comparison = Comparison(staves[index::len(parts)], columns, self.size, where, self.alone(part))
            self.faults += comparison.differences
            total += comparison.compared
        return total

    def alone(self, part):
        """Whether the part's tab stands without a staff of notes, and so carries the rhythm."""
        return self.tab_only or not self.song.parts[part].notation

    def the_check_bites(self, staves):
        """One figure changed in the song must be found missing on the page, and one held figure on the page."""
        section, own = next((s, staves) for s, staves in self.by_section(staves) if s.tabs and staves)
        part, columns = section.tabs[0]
        changed = copy.deepcopy(columns)
        column = next(c for c in reversed(changed) if c.figures)
        string = next(iter(column.figures))
        column.figures[string] = "31"
        comparison = Comparison(own[0::len(section.tabs)], changed, self.size, "changed", self.alone(part))
        self.expect(len(comparison.differences) == 1, "a changed figure is not noticed")
        self.held_check_bites(staves)

    def held_check_bites(self, staves):
        """Where tab stands alone and the song has a tie, each held figure of that part is changed in turn."""
        for section, own in self.by_section(staves):
            for index, (part, columns) in enumerate(section.tabs):
                tied = [i for i, c in enumerate(columns) if c.tied and not c.figures]
                if not tied or not self.alone(part):
                    continue
                shown = copy.deepcopy(own[index::len(section.tabs)])
                string = next(iter(columns[tied[-1]].tied))
                held = [f for s in shown for f in s.figures if f.string == string and f.text.startswith("(")
                        and f.size < 0.97 * self.size]
                self.expect(held, f"section {section.name}: nothing held on string {string}")
                for figure in held:
                    figure.text, text = "(31)", figure.text
                    comparison = Comparison(shown, columns, self.size, "changed", True)
                    self.expect(len(comparison.differences) > 0, f"a changed held figure {text} is not noticed")
                    figure.text = text
                return


def says(style, line):
    """Whether a style file has this line."""
    with open(style, encoding="utf-8") as file:
        return re.search(r"^" + line + r" *(#.*)?$", file.read(), re.MULTILINE) is not None


def eval_fraction(text):
    above, _, below = text.partition("/")
    return int(above) / int(below or 1)


def unescaped(text):
    return (text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", '"').replace("&#39;", "'")
            .replace("&apos;", "'").replace("&amp;", "&"))


def main():
    parser = argparse.ArgumentParser(description="Prints a song and reads the PDF back.")
    parser.add_argument("program")
    parser.add_argument("song")
    parser.add_argument("paper", choices=["a4", "letter"])
    parser.add_argument("--style")
    parser.add_argument("--instrument")
    wanted = parser.parse_args()
    name = os.path.basename(wanted.song)
    with tempfile.TemporaryDirectory() as folder:
        song = wanted.song
        if wanted.instrument:
            song = os.path.join(folder, song)
            made = run(wanted.program, "new", song, "--instrument", wanted.instrument)
            if made.returncode != 0:
                print(made.stderr)
                return 1
        readback = Readback(wanted.program, song, wanted.paper, wanted.style, folder)
        readback.all()
        for line in readback.faults + readback.notes:
            print(f"{name} on {wanted.paper}: {line}")
        return 1 if readback.faults else 0


if __name__ == "__main__":
    sys.exit(main())
