// Mappings read by the table. In: a mapping, the place it stands at, one reader per key. Out: the filled struct; every
// key the table does not know at that place is reported with the nearest one it does. Invariant: a key of the table
// without a reader is a fault of the program and throws. Read next: tunesheaf/song/language.h.
#pragma once
#include <functional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <unordered_set>
#include <vector>

#include "context.h"
#include "vocabulary.h"

namespace tunesheaf::song {

template <class T>
struct Field {
  std::string_view word;
  void (*read)(Context&, const yaml::Entry&, T&);
};

/// What is done with a key that is not in the table (a part's name, say); false when it has no place here.
template <class T>
using OtherKey = std::function<bool(const yaml::Entry&, T&)>;

/// The mapping with every misspelt key under its right name, so that one slip is one fault: what the key holds is read,
/// and nothing that depends on it goes missing. The faults are added here. `value` itself where all keys are known.
const yaml::Node& mend_keys(Context& context, std::string_view place, const yaml::Node& value,
                            const std::vector<std::string>& other_names);
void unknown_key(Context& context, std::string_view place, const yaml::Entry& entry,
                 const std::vector<std::string>& other_names);
bool expect_keys(Context& context, std::string_view place, const yaml::Node& key, const yaml::Node& value);
void missing_keys(Context& context, std::string_view place, const yaml::Node& key, const yaml::Node& value);

/// `key` is what the mapping stands behind, for messages; the root of a file has an empty one.
template <class T>
void read_fields(Context& context, std::string_view place, const yaml::Node& key, const yaml::Node& value,
                 const std::vector<Field<T>>& fields, T& target, const OtherKey<T>& other = {},
                 const std::vector<std::string>& other_names = {}) {
  if (!expect_keys(context, place, key, value)) return;
  const yaml::Node& mended = mend_keys(context, place, value, other_names);
  for (const yaml::Entry& entry : mended.entries) {
    if (find_key(place, entry.key.text) == nullptr) {
      if (!other || !other(entry, target)) unknown_key(context, place, entry, other_names);
      continue;
    }
    bool found = false;
    for (const Field<T>& field : fields) {
      if (field.word != entry.key.text) continue;
      field.read(context, entry, target);
      found = true;
    }
    if (!found) throw std::logic_error("the key " + entry.key.text + " of " + std::string(place) + " has no reader");
  }
  missing_keys(context, place, key, mended);
}

/// A mapping of the writer's own names: recordings, parts, shapes ...; calls `read` for each entry with a good name.
void read_named(Context& context, const yaml::Entry& entry, const std::function<void(const yaml::Entry&)>& read);

inline Text text_of(const yaml::Node& key) {
  return {single_blanks(key.text), key.span};
}

}  // namespace tunesheaf::song
