// Writes the answers of a theory library (npm, pinned in package.json) as JSON, for library_check.cpp to compare.
// Usage: node dump.mjs OUT.json
import {createRequire} from "node:module";
import {writeFileSync} from "node:fs";

const require = createRequire(import.meta.url);
const load = (name) => {
  const m = require("@tonaljs/" + name);
  return m.default ?? m;
};
const note = load("note"), interval = load("interval"), key = load("key"), scaleType = require("@tonaljs/scale-type");
const scale = load("scale"), chordType = require("@tonaljs/chord-type"), chord = load("chord"), midi = load("midi");
const mode = load("mode");

const letters = ["C", "D", "E", "F", "G", "A", "B"];
const signs = ["", "#", "b", "##", "bb"];
const classes = letters.flatMap((l) => signs.map((s) => l + s));

const notes = [];
for (let m = 0; m < 128; ++m) {
  const name = note.fromMidi(m);
  notes.push({midi: m, flat: name, sharp: note.fromMidiSharps(m), midiOfFlat: note.midi(name), freq: midi.midiToFreq(m)});
}

const intervalNames = [];
for (let n = 1; n <= 15; ++n) {
  const perfect = [1, 4, 5].includes(((n - 1) % 7) + 1);
  for (const q of perfect ? ["dd", "d", "P", "A", "AA"] : ["dd", "d", "m", "M", "A", "AA"]) intervalNames.push(n + q);
}
const intervals = intervalNames.map((i) => ({name: i, semitones: interval.semitones(i)}));

const transpositions = [];
for (const pc of classes) {
  for (const i of intervalNames) {
    for (const down of ["", "-"]) transpositions.push({from: pc + "4", by: down + i, to: note.transpose(pc + "4", down + i)});
  }
}

const tonics = letters.flatMap((l) => ["", "#", "b"].map((s) => l + s));
const keys = [];
for (const t of tonics) {
  const major = key.majorKey(t);
  keys.push({name: t + " major", alteration: major.alteration, scale: major.scale});
  const minor = key.minorKey(t);
  keys.push({name: t + " minor", alteration: minor.alteration, scale: minor.natural.scale});
}
const grades = [];
for (const t of tonics) {
  const major = key.majorKey(t);
  major.chords.forEach((c, i) => grades.push({key: t + " major", chord: c, grade: major.grades[i]}));
}
const modes = [];
for (const m of ["ionian", "dorian", "phrygian", "lydian", "mixolydian", "aeolian", "locrian"]) {
  for (const t of tonics) modes.push({name: t + " " + m, scale: mode.notes(m, t)});
}

const scales = scaleType.all().map((s) => ({
  name: s.name,
  intervals: s.intervals,
  on: ["C", "F#", "Bb"].map((t) => ({tonic: t, notes: scale.get(t + " " + s.name).notes})),
}));

const chords = [];
for (const type of chordType.all()) {
  for (const alias of type.aliases) {
    for (const t of ["C", "F#", "Bb", "Ab"]) {
      chords.push({text: t + alias, tonic: t, intervals: type.intervals, notes: chord.getChord(alias, t).notes, type: type.name});
    }
  }
}

writeFileSync(process.argv[2], JSON.stringify({notes, intervals, transpositions, keys, grades, modes, scales, chords}));
