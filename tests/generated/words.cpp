#include "generated/words.h"

namespace tunesheaf::generated {
namespace {

using Row = std::vector<std::string>;

const Row kNames{
    "harbour wall", "tin kettle", "grey mare",      "lantern",     "wet slate",    "ninepins",     "heron",
    "old ferry",    "marigold",   "stairwell",      "copper roof", "quarry lane",  "paper boat",   "thistle",
    "cold supper",  "millrace",   "blue gate",      "windfall",    "saltbox",      "weather vane", "brown jug",
    "candlewick",   "goose step", "ropewalk",       "fish market", "orchard",      "velvet coat",  "drystone",
    "first frost",  "pedlar",     "moth hour",      "cartwheel",   "stone bridge", "almanac",      "linden",
    "far meadow",   "περίπατος",  "παλιό καφενείο", "утро",        "тихая вода",   "été",          "größe",
    "שביל",         "طريق"};

const Row kLatin{"the",   "thumb",  "keeps",  "time",  "while",    "fingers", "answer",     "above",
                 "it",    "slowly", "let",    "every", "string",   "ring",    "until",      "needed",
                 "again", "and",    "then",   "count", "softly",   "bridge",  "evening",    "window",
                 "we’ll", "don’t",  "a",      "of",    "shoulder", "loose",   "breathe",    "before",
                 "last",  "bar",    "listen", "for",   "low",      "note",    "unhurriedly"};
const Row kGerman{"der",     "Daumen",  "hält",  "die", "Zeit", "und", "Zwölftonreihenübungsheft",
                  "langsam", "spielen", "größer"};
const Row kFrench{"l’ombre", "d’été", "très", "doucement", "où", "la", "corde", "résonne", "encore", "garçon"};
const Row kGreek{"η", "χορδή", "αντηχεί", "σιγά", "ως", "το", "τέλος", "και", "μετά", "ξανά"};
const Row kRussian{"струна", "звенит", "до", "конца", "и", "снова", "тише", "большой", "палец"};
const Row kHebrew{"המיתר", "מצלצל", "עד", "הסוף", "לאט", "ושוב"};
const Row kArabic{"الوتر", "يرن", "حتى", "النهاية", "ببطء", "ثم"};

const Row& rows_of(const std::string& language) {
  if (language == "de") return kGerman;
  if (language == "fr") return kFrench;
  if (language == "el") return kGreek;
  if (language == "ru") return kRussian;
  if (language == "he") return kHebrew;
  if (language == "ar") return kArabic;
  return kLatin;
}

}  // namespace

Words::Words(Random& random) : random_(random), names_(kNames) {
  language_ = random.weighed<const char*>(
      {{60, "en"}, {6, "de"}, {6, "fr"}, {6, "el"}, {6, "ru"}, {5, "he"}, {5, "ar"}, {3, "en-GB"}, {3, "de-AT"}});
  random_.shuffle(names_);
}

std::string Words::name() {
  if (next_name_ < names_.size()) return names_[next_name_++];
  return "number " + std::to_string(++next_name_);
}

std::string Words::word() {
  if (random_.chance(1)) return "Unaussprechlichkeitsverordnungsentwurf";
  if (random_.chance(3)) return std::to_string(random_.between(1, 2000));
  if (random_.chance(8)) return random_.pick(kLatin);
  return random_.pick(rows_of(language_.substr(0, 2)));
}

std::string Words::text(int most_words) {
  const int count = random_.weighed<int>({{50, 6}, {30, 14}, {15, 1}, {5, 80}});
  std::string out;
  const int words = random_.between(1, std::min(count, most_words));
  for (int i = 0; i < words; ++i) {
    std::string next = word();
    if (random_.chance(3)) next = "“" + next + "”";
    if (random_.chance(2)) next = "\"" + next + "\"";
    if (i + 1 < words && random_.chance(6))
      next += random_.weighed<const char*>({{5, ","}, {2, ";"}, {2, ":"}, {1, " –"}});
    out += (i > 0 ? " " : "") + next;
  }
  if (random_.chance(60)) out += ".";
  return out;
}

std::string Words::title() {
  if (random_.chance(2)) {
    std::string out = text(1);
    while (out.size() < 280) out += " " + word();
    return out;
  }
  std::string out = "The " + random_.pick(kNames);
  if (random_.chance(25))
    out += random_.weighed<const char*>({{2, "’s End"}, {2, " (\"Slow\")"}, {1, ": a Waltz"}, {1, " & Sons"}});
  if (random_.chance(15)) out += " " + word();
  return out;
}

std::string Words::syllable() {
  std::string out;
  do {
    out = random_.pick(rows_of(language_.substr(0, 2)));
  } while (out.size() > 16);
  if (random_.chance(20)) return out + "-";
  if (random_.chance(15)) return out + random_.weighed<const char*>({{4, ","}, {2, "."}, {1, "!"}, {1, "?"}, {1, ";"}});
  return out;
}

}  // namespace tunesheaf::generated
