// What is written and changes nothing on the page: named, so that nobody waits for it.
#include <algorithm>

#include "context.h"

namespace tunesheaf::check {
namespace {

using theory::Family;

void say_shapes(Context& context) {
  for (const song::ShapeDef& shape : context.song.shapes)
    if (shape.instead_of && shape.from != song::Authority::Lesson)
      context.say(Kind::ChangesNothing, shape.instead_of->span,
                  "the shape " + diag::quoted(shape.name.value) +
                      " stands in for something and is said to be the "
                      "recording's own",
                  "`instead of` names what the recording has where the lesson has something else",
                  "add `from: lesson` to the shape, or take `instead of` away");
}

}  // namespace

void say_changes_nothing(Context& context) {
  say_shapes(context);
}

}  // namespace tunesheaf::check
