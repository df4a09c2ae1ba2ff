// A diagram as a DOT file for people who want to lay it out or retouch it with their own tools.
//
// Written through cgraph. Node names are n0, n1, ...; the user's text stands in plain labels only, with backslash and
// ampersand escaped (Graphviz reads "\N" and "&#92;" as something else). Equal diagrams give equal bytes.
#pragma once

#include <string>

#include "viz/diagram.h"

namespace saggar::viz {

std::string to_dot(const Diagram& diagram);

// Text for a Graphviz label: cleaned, one line, "\" and "&" escaped.
std::string dot_label(std::string_view text);

}  // namespace saggar::viz
