#include <algorithm>
#include <nlohmann/json.hpp>

#include "tunesheaf/song/language.h"
#include "vocabulary.h"

// Loaders of YAML differ: one makes a number of "96" or "1:56", another a text, a third a date of "2026-03-01". The
// schema accepts what any of them makes of a value that our own reader accepts.
namespace tunesheaf::song {
namespace {

using Json = nlohmann::ordered_json;

Json reference(std::string_view name) {
  return Json{{"$ref", "#/$defs/" + std::string(name)}};
}

Json text_matching(const std::string& pattern) {
  return Json{{"type", "string"}, {"pattern", pattern}};
}

Json any_of(std::initializer_list<Json> choices) {
  return Json{{"anyOf", Json(std::vector<Json>(choices))}};
}

Json list_of_scalars() {
  return Json{{"type", "array"}, {"minItems", 1}, {"items", Json{{"type", {"string", "number", "boolean"}}}}};
}

/// "1:56" and the like, or the number some loaders make of it.
Json time_schema() {
  return any_of({text_matching("^\\s*([0-9]{1,2}:[0-5][0-9]|[0-9]{1,3}):[0-5][0-9](\\.[0-9]+)?\\s*$"),
                 Json{{"type", "number"}, {"minimum", 0}}});
}

Json number_schema(int least = 0) {
  const std::string digits = least > 0 ? "^0*[1-9][0-9]*$" : "^[0-9]+$";
  return any_of({Json{{"type", "integer"}, {"minimum", least}}, text_matching(digits)});
}

Json keys_of(std::string_view place);

/// Lines that are blank, a comment, or a known lane whose bars are all ended. A body never runs over " #", and a quote
/// is one piece, so each line matches in one way only and a failing match stays linear.
Json lanes_schema() {
  std::string names;
  for (const std::string& name : lane_names()) {
    if (!names.empty()) names += '|';
    for (const char c : name) names += c == ' ' ? std::string(" +") : std::string(1, c);
  }
  const std::string body = R"re((?:[^\n\t "|]|\|(?!\|)|"[^"\n]*"|(?<=[^\s|])"| (?!#))*\|)re";
  const std::string behind = R"re( *(?: #[^\n]*)?)re";
  const std::string lane = " *(?:" + names + ") *\\|" + body + behind;
  return text_matching("^(?=[^|]*\\|)(?:(?: *(?:#[^\\n]*)?|" + lane + ")(?:\\n|$))+$");
}

/// Words alone, a number with words of tempo before it, or a note value and a number.
Json tempo_schema() {
  const std::string unit = "(?:whole|half|quarter|eighth|sixteenth|thirty-second|8th|16th|\u2669|\u266a)(?: note)?";
  return any_of({Json{{"type", "number"}, {"minimum", 10}, {"maximum", 600}},
                 text_matching("^(?:[^0-9=]+|(?:[^0-9=]* )?[0-9]+(?:\\.[0-9]+)?|[^=]*" + unit + " *=? *[0-9.]+)$")});
}

/// Names of the writer's own that would be read as something else.
Json names_schema(std::string_view place) {
  Json taken{"-", ".", "%", "%%"};
  for (const LanguageEntry& entry : language()) {
    const bool key_of_section = entry.kind == EntryKind::Key && (entry.where == "section" || entry.where == "bars");
    const bool sign_of_form = entry.kind == EntryKind::FormWord && entry.word != "coda";
    const bool clash = (place == "part" && key_of_section) || (place == "section" && sign_of_form);
    const std::string word(entry.word);
    if (clash && std::find(taken.begin(), taken.end(), word) == taken.end()) taken.push_back(word);
  }
  return Json{{"not", Json{{"enum", taken}}}};
}

Json choice_schema(const LanguageEntry& entry) {
  return Json{{"enum", choices_of(entry)}};
}

Json named_schema(std::string_view place) {
  Json made{{"type", "object"}, {"minProperties", 1}, {"propertyNames", names_schema(place)}};
  Json item = reference(place);
  if (place == "remark") item = any_of({reference("words"), reference(place)});
  if (place == "pattern") item = any_of({reference("lanes"), reference(place)});
  if (place == "recording") item = any_of({Json{{"type", "null"}}, reference(place)});
  if (place == "ending") {
    made["patternProperties"] = Json{{"^[0-9][0-9, -]*$", item}};
    made["additionalProperties"] = false;
  } else {
    made["additionalProperties"] = item;
  }
  return made;
}

Json value_schema(const LanguageEntry& entry) {
  switch (entry.type) {
    case ValueType::Integer:
      return number_schema();
    case ValueType::LanguageTag:
      return text_matching("^\\s*[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*\\s*$");
    case ValueType::Address:
      return text_matching("^\\s*[Hh][Tt][Tt][Pp][Ss]?://[^\\s\"<>/?#:][^\\s\"<>]*\\s*$");
    case ValueType::YesNo:
      return Json{{"enum", {true, false, "yes", "no"}}};
    case ValueType::Time:
      return time_schema();
    case ValueType::Places:
      return any_of({time_schema(), Json{{"type", "object"}, {"additionalProperties", time_schema()}}});
    case ValueType::Tempo:
      return tempo_schema();
    case ValueType::Feel:
      return text_matching("^\\s*(straight|swing(\\s+\\S+)?(\\s+[0-9]+:[0-9]+)?)\\s*$");
    case ValueType::PickUp:
      return text_matching("^\\s*(half a beat|[0-9./]+\\s+beats?|[0-9]+/[0-9]+)\\s*$");
    case ValueType::Capo:
      return any_of({number_schema(), reference(entry.inside)});
    case ValueType::Frets:
      return any_of({text_matching("^[x0-9 ]+$"), number_schema(), list_of_scalars()});
    case ValueType::Fingers:
      return any_of({text_matching("^[.T1-4 ]+$"), Json{{"type", "number"}}, list_of_scalars()});
    case ValueType::StringList:
      return any_of({text_matching("^[0-9 ]+$"), number_schema(), list_of_scalars()});
    case ValueType::WhoSays:
    case ValueType::Choice:
      return choice_schema(entry);
    case ValueType::Named:
      return named_schema(entry.inside);
    case ValueType::CountOrKeys:
      return any_of({number_schema(1), reference(entry.inside)});
    case ValueType::Lanes:
      return entry.inside.empty() ? reference("lanes") : any_of({reference("lanes"), reference(entry.inside)});
    case ValueType::BarLanes:
      return Json{{"type", "object"},
                  {"patternProperties", Json{{"^(first|last|[0-9]+(-[0-9]+)?)$", reference("lanes")}}},
                  {"additionalProperties", false}};
    case ValueType::Form:
      return Json{{"type", "array"}, {"minItems", 1}, {"items", reference("words")}};
    case ValueType::Parts:
      return any_of({reference("words"), Json{{"type", "array"}, {"minItems", 1}, {"items", reference("words")}}});
    case ValueType::Words:
    case ValueType::None:
      break;
  }
  return reference("words");
}

Json keys_of(std::string_view place) {
  Json properties = Json::object();
  Json required = Json::array();
  for (const LanguageEntry& entry : language()) {
    if (entry.kind != EntryKind::Key || entry.where != place) continue;
    Json value = value_schema(entry);
    value["description"] = std::string(entry.meaning) + " Example: " + std::string(entry.example);
    properties[std::string(entry.word)] = std::move(value);
    if (entry.required) required.push_back(std::string(entry.word));
  }
  Json made{{"type", "object"}, {"properties", std::move(properties)}};
  if (!required.empty()) made["required"] = std::move(required);
  // Parts play under their own names in a section and in an ending.
  const bool parts_play_here = place == "section" || place == "ending";
  if (parts_play_here) {
    made["additionalProperties"] = any_of({reference("lanes"), reference("bars")});
  } else {
    made["additionalProperties"] = false;
  }
  return made;
}

}  // namespace

std::string json_schema() {
  Json schema{{"$schema", "https://json-schema.org/draft/2020-12/schema"},
              {"title", "A song for lesson sheets"},
              {"description", "The keys of a song file. Lanes, their cells, and names are checked by the program."}};
  schema.update(keys_of("song"));
  Json defs = Json::object();
  defs["words"] = Json{{"type", {"string", "number", "boolean"}}};
  defs["lanes"] = lanes_schema();
  defs["lanes"]["description"] = "Lanes: one per line, a name and then bars between |, beats between free colons.";
  for (const char* place :
       {"recording", "part", "capo", "shape", "pattern", "section", "bars", "ending", "remark", "times"}) {
    defs[place] = keys_of(place);
  }
  schema["$defs"] = std::move(defs);
  return schema.dump(2) + "\n";
}

}  // namespace tunesheaf::song
