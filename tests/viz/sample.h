// Diagrams for the tests; all names are invented.
#pragma once

#include <string>
#include <vector>

#include "viz/diagram.h"

namespace saggar::viz::sample {

// Three boxes in a row with claims between them, one of them disputed.
Diagram chain();

// A claim with two sources for it, one against it and one that copies another.
Diagram claim();

// `count` boxes joined as a tree with some cross lines.
Diagram large(std::size_t count);

// One box for each label.
Diagram labels(const std::vector<std::string>& labels);

// Texts a picture must show as text: markup, escapes of Graphviz, reading order, length, broken bytes.
const std::vector<std::string>& hostile();

}  // namespace saggar::viz::sample
