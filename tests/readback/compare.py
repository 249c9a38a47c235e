"""Compares the figures read from a page with the columns of the Timeline, staff by staff.

In: the tab staves of one part in one section, in reading order, and the part's columns. Out: a list of sentences, one
for each difference; empty when the page says what the song says. Read next: readback.py.
"""
from page import columns_of


def bare(text):
    return text.strip("()")


class Comparison:
    def __init__(self, staves, columns, size, where):
        self.expected = columns
        self.size = size
        self.where = where
        self.next = 0
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
            self.skip_held_columns()
            figures = [f for f in figures if not self.is_aside(f) and not self.is_touch(f)]
            if index == 0:
                figures = [f for f in figures if not self.is_recalled(f)]
            if figures:
                self.read_column(staff, figures)

    def skip_held_columns(self):
        """Columns where every note is held have no figures of their own."""
        while self.next < len(self.expected) and not self.expected[self.next].figures:
            if self.expected[self.next].again:  # read_column() decides
                return
            self.sound(self.expected[self.next])
            self.next += 1

    def sound(self, column):
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
