"""Compares the figures read from a page with the columns of the Timeline, staff by staff.

In: the tab staves of one part in one section, in reading order, and the part's columns. Out: a list of sentences, one
for each difference; empty when the page says what the song says. Where tab stands alone it carries the rhythm, and ties
(curves, which are not read here) say what is held; a held note is written again in brackets, smaller, where a line of
music begins with it and where the hand leaves it. A ghost note is bracketed too, so the Timeline decides: what it holds
there is held, with that string and fret. Read next: readback.py.
"""
from page import columns_of
from timeline import Column


def bare(text):
    return text.strip("()")


def bracketed(text):
    return "(" + bare(text) + ")"


class Comparison:
    def __init__(self, staves, columns, size, where, alone=False):
        self.expected = columns
        self.size = size
        self.where = where
        self.alone = alone      # the tab carries the rhythm
        self.next = 0
        self.now = None         # when the figures read last are struck
        self.ends = {}          # by string: when what sounds there ends
        self.last = {}          # what sounds on each string
        self.aside = {}         # what may follow on a string in parentheses: a bend's return, a trill's second note
        self.touched = {}       # where on a string a harmonic is yet to be shown as touched
        self.compared = 0
        self.differences = []
        for staff in staves:
            self.read_staff(staff)
        for string, fret in self.touched.items():
            self.say(f"the harmonic touched on string {string} at {fret} is not on the page")
        for column in self.expected[self.next:]:
            if column.figures:
                self.say(f"{column.at}: {column.figures} is not on the page")

    def say(self, sentence):
        """The first few tell what is wrong; after a slip everything differs."""
        if len(self.differences) == 5:
            self.differences.append(f"{self.where}: and more")
        if len(self.differences) < 5:
            self.differences.append(f"{self.where}: {sentence}")

    def read_staff(self, staff):
        for index, figures in enumerate(columns_of(staff)):
            figures = [f for f in figures if not self.is_aside(f) and not self.is_touch(f)]
            if self.alone:
                figures = self.without_held(staff, figures)
                if not figures:
                    continue
            self.skip_held_columns()
            if index == 0 and not self.alone:
                figures = [f for f in figures if not self.is_recalled(f)]
            if figures:
                self.read_column(staff, figures)

    def without_held(self, staff, figures):
        """What is struck: the figures less those in brackets that the song holds."""
        ahead = next((c for c in self.expected[self.next:] if c.figures), Column((0, 0), 0))
        rest = [f for f in figures if not self.is_held_at(ahead, f)]
        read = {f.string: f.text for f in figures}
        if rest and {f.string: f.text for f in rest} == ahead.figures and not self.is_held_before(ahead, figures):
            return rest
        if all(self.is_held_now(f) for f in figures):
            return []
        if all(f.text == bracketed(f.text) and f.size < 0.97 * self.size for f in figures):
            self.say(f"page {staff.page}, x {figures[0].x:.0f}: the song does not hold {read}")
            return []
        return rest

    def is_held_before(self, column, figures):
        """A ghost note on the fret that sounds already: both are bracketed; only what is held is written smaller."""
        return not column.grace and all(self.is_held_now(f) and f.size < 0.97 * self.size for f in figures)

    def is_held_at(self, column, figure):
        """Held while other strings are struck."""
        if figure.string in column.figures or figure.text != bracketed(figure.text):
            return False
        tied = column.tied.get(figure.string)
        if tied is not None:
            return figure.text == bracketed(tied)
        return self.last.get(figure.string) == bare(figure.text) and self.ends.get(figure.string, 0) > column.when

    def is_held_now(self, figure):
        """Held between the figures read last and those that come next."""
        if figure.text != bracketed(figure.text):
            return False
        if self.last.get(figure.string) == bare(figure.text) and self.ends.get(figure.string, 0) > (self.now or 0):
            return True
        for column in self.expected[self.next:]:
            if column.figures:
                break
            if figure.string in column.tied:
                return figure.text == bracketed(column.tied[figure.string])
        return False

    def skip_held_columns(self):
        """Columns where every note is held have no figures of their own."""
        while self.next < len(self.expected) and not self.expected[self.next].figures:
            if self.expected[self.next].again:  # read_column() decides
                return
            self.sound(self.expected[self.next])
            self.next += 1

    def sound(self, column):
        if column.figures:
            self.now = column.when
        self.ends.update(column.ends)
        self.last.update({string: bare(text) for string, text in column.tied.items()})
        self.last.update({string: bare(text) for string, text in column.figures.items()})
        for string in column.figures.keys() & self.touched.keys():
            self.say(f"{column.at}: no touched fret stands beside the harmonic before it on string {string}")
        self.touched.update(column.touched)
        self.aside.update({string: column.aside.get(string, []) for string in column.figures})

    def is_aside(self, figure):
        """A figure in parentheses that goes on with the note before it."""
        return figure.text.startswith("(") and bare(figure.text) in self.aside.get(figure.string, [])

    def is_touch(self, figure):
        """The place where the picking hand touches, beside the fret of an artificial harmonic."""
        if figure.text != f"<{self.touched.get(figure.string)}>":
            return False
        del self.touched[figure.string]
        return True

    def is_recalled(self, figure):
        """At the left of a system: what is held from the system before, in parentheses."""
        fresh = self.expected[self.next].figures if self.next < len(self.expected) else {}
        return (figure.text.startswith("(") and figure.string not in fresh
                and self.last.get(figure.string) == bare(figure.text))

    def skip_repeated_strums(self, read):
        """A strum that repeats the one before is a slash, except on a new line of music: there its figures come again."""
        while self.next < len(self.expected) and not self.expected[self.next].figures:
            if read == self.expected[self.next].again:
                return
            self.sound(self.expected[self.next])
            self.next += 1

    def read_column(self, staff, figures):
        read = {figure.string: figure.text for figure in figures}
        self.skip_repeated_strums(read)
        if self.next >= len(self.expected):
            self.say(f"page {staff.page}, x {figures[0].x:.0f}: {read} is not in the song")
            return
        column = self.expected[self.next]
        grace = all(figure.size < 0.97 * self.size for figure in figures)
        if read not in (column.figures, {**column.figures, **column.again}) or grace != column.grace:
            place = f"page {staff.page} at x {figures[0].x:.0f}"
            self.say(f"{column.at}: the song has {column.figures}, {place} has {read}")
        self.compared += len(column.figures)
        self.sound(column)
        self.next += 1
