#include <algorithm>

#include "builder.h"
#include "tunesheaf/theory/naming.h"
#include "tunesheaf/theory/recording.h"

namespace tunesheaf::score {
namespace {

double followed_cents(const Builder& builder) {
  return builder.song.recordings.empty() ? 0.0 : builder.song.recordings.front().offset.rest_cents();
}

/// From a staff to what sounds: back to the page, and up by the page's capo.
theory::Interval concert_interval(const Builder& builder, theory::Interval from_page) {
  const theory::Interval capo = theory::usual_interval(builder.song.page_capo);
  return {capo.steps - from_page.steps, capo.semitones - from_page.semitones};
}

Part part_of(const Builder& builder, const CheckedPart& from) {
  const song::PartDef& def = *from.def;
  Part part;
  part.name = def.name;
  part.short_name = def.short_name ? def.short_name->value : def.name.value;
  part.instrument = from.instrument;
  part.tuning = from.tuning;
  part.usual = from.usual;
  part.tuning_name = from.tuning_name;
  part.capo = from.capo.full() ? from.capo.fret : 0;
  if (!from.capo.full()) part.partial_capo = def.capo;
  part.clef = from.clef;
  part.octave_shift = octaves_above(from.clef);
  if (def.stands_in_for) part.stands_in_for = def.stands_in_for->value;
  part.notation = from.notation;
  part.tab = from.tab;
  part.origin = def.name.span;
  part.from_page = staff_key_of(builder.song, from, builder.song.key).from_page;
  part.to_concert = concert_interval(builder, part.from_page);
  if (!from.tuning.same_pitches(from.usual)) {
    auto way = theory::retune(from.usual, from.tuning, from.usual, theory::named_tunings(), followed_cents(builder));
    if (way) part.retuning = *way;
  }
  return part;
}

std::vector<std::optional<theory::Pitch>> sounding_of(const Builder& builder, const check::CheckedShape& shape,
                                                      const std::optional<theory::ChordName>& chord) {
  const CheckedPart& part = builder.song.parts[static_cast<std::size_t>(shape.part)];
  std::vector<std::optional<theory::Pitch>> out(shape.shape.frets.size());
  std::vector<int> keys;
  std::vector<std::size_t> places;
  for (const auto& string : theory::sounding(shape.tuning, part.capo, shape.shape)) {
    if (string.midi.empty()) continue;
    keys.push_back(page_of_concert(builder.song, string.midi.front()));
    places.push_back(shape.shape.place_of(string.string));
  }
  const auto pitches = theory::spell_all(keys, chord, builder.song.key);
  for (std::size_t i = 0; i < pitches.size() && i < places.size(); ++i) out[places[i]] = pitches[i];
  return out;
}

}  // namespace

void build_parts(Builder& builder) {
  for (const CheckedPart& part : builder.song.parts) builder.out.parts.push_back(part_of(builder, part));
}

void build_shapes(Builder& builder) {
  for (const check::CheckedShape& from : builder.song.shapes) {
    const song::ShapeDef& def = *from.def;
    ShapeUse use;
    use.name = def.name;
    use.shape = from.shape;
    if (def.hand) use.hand = def.hand->value;
    use.ear = from.ear ? from.ear : from.computed;
    use.ear_is_claim = from.ear.has_value();
    if (from.ear) {
      use.ear_text = def.ear->value;
    } else {
      use.ear_text = from.computed ? theory::print(*from.computed, theory::Accidentals::Signs) : "no common name";
    }
    use.sounding = sounding_of(builder, from, use.ear);
    use.part = from.part;
    use.tuned = tuned_words(from.tuning, builder.song.parts[static_cast<std::size_t>(from.part)].tuning);
    use.from = def.from;
    if (def.instead_of) use.instead_of = def.instead_of->value;
    if (def.says) use.says = def.says->value;
    use.used = from.used;
    use.origin = def.name.span;
    builder.out.shapes.push_back(std::move(use));
  }
}

void build_recordings(Builder& builder) {
  for (const check::CheckedRecording& from : builder.song.recordings) {
    Recording recording;
    recording.name = from.def->name;
    recording.cents = from.offset.cents;
    if (from.def->sounds) recording.sounds = from.def->sounds->value;
    if (from.def->tempo) recording.tempo = from.def->tempo->value;
    if (from.key) {
      recording.sounding_key = from.key;
    } else if (builder.song.key) {
      const int up = builder.song.page_capo + from.offset.semitones();
      recording.sounding_key = up == 0 ? *builder.song.key : theory::transposed(*builder.song.key, up);
    }
    if (from.def->note) recording.note = from.def->note->value;
    recording.followed = builder.out.recordings.empty();
    builder.out.recordings.push_back(std::move(recording));
  }
}

}  // namespace tunesheaf::score
