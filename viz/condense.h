// Makes a diagram small enough to lay out and to read: things of one kind that hang on one box by the same relation
// become one box, the largest groups first; what was put together is stated under the picture.
//
// Boxes in focus, disputed or ruled, and lines that are disputed or ruled, are never put together by this first step.
// Where the diagram is still too large, all further boxes of a kind become one box. Cost: linear in boxes and lines,
// a few passes.
#pragma once

#include "viz/diagram.h"
#include "viz/render/limits.h"

namespace saggar::viz {

// Unchanged where it has at most `most` boxes. Numbers of citations stay as they are.
Diagram condensed(Diagram diagram, std::size_t most = kMostNodes);

}  // namespace saggar::viz
