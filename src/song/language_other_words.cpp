#include <algorithm>
#include <array>
#include <cctype>

#include "vocabulary.h"

// Words that many musicians use for what the language calls otherwise. They are no part of the language: they only
// lead from a habit to the word that is read.
namespace tunesheaf::song {
namespace {

struct OtherWord {
  EntryKind kind;
  std::string_view typed, word;
};

constexpr std::array<OtherWord, 38> kOtherWords{{
    {EntryKind::Lane, "hi-hat", "hat"},
    {EntryKind::Lane, "hihat", "hat"},
    {EntryKind::Lane, "hh", "hat"},
    {EntryKind::Lane, "open hat", "hat open"},
    {EntryKind::Lane, "bass drum", "kick"},
    {EntryKind::Lane, "bd", "kick"},
    {EntryKind::Lane, "snare drum", "snare"},
    {EntryKind::Lane, "sd", "snare"},
    {EntryKind::Lane, "rim shot", "rim"},
    {EntryKind::Lane, "rimshot", "rim"},
    {EntryKind::Lane, "sidestick", "cross-stick"},
    {EntryKind::Lane, "side stick", "cross-stick"},
    {EntryKind::Lane, "melody", "notes"},
    {EntryKind::Lane, "strumming", "strum"},
    {EntryKind::Lane, "picking", "pluck"},
    {EntryKind::Lane, "fingers", "finger"},
    {EntryKind::Lane, "harmony", "chords"},
    {EntryKind::Lane, "words", "lyric"},
    {EntryKind::Lane, "text", "say"},
    {EntryKind::Lane, "pm", "palm mute"},
    {EntryKind::Lane, "whammy", "arm"},
    {EntryKind::Lane, "whammy bar", "arm"},
    {EntryKind::Lane, "tremolo bar", "arm"},
    {EntryKind::Lane, "fermata", "hold"},
    {EntryKind::Lane, "cresc", "crescendo"},
    {EntryKind::Lane, "dim", "diminuendo"},
    {EntryKind::Lane, "rit", "ritardando"},
    {EntryKind::Lane, "accel", "accelerando"},
    {EntryKind::Key, "title", "song"},
    {EntryKind::Key, "artist", "by"},
    {EntryKind::Key, "author", "by"},
    {EntryKind::Key, "composer", "by"},
    {EntryKind::Key, "bpm", "tempo"},
    {EntryKind::Key, "time signature", "meter"},
    {EntryKind::Key, "structure", "form"},
    {EntryKind::Key, "repeat", "times"},
    {EntryKind::Key, "chords", "chart"},
    {EntryKind::Key, "anacrusis", "pick-up"},
}};

}  // namespace

std::optional<std::string> word_meant_by(EntryKind kind, std::string_view typed) {
  std::string small(typed);
  std::transform(small.begin(), small.end(), small.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  for (const OtherWord& other : kOtherWords) {
    if (other.kind == kind && other.typed == small) return std::string(other.word);
  }
  return std::nullopt;
}

}  // namespace tunesheaf::song
