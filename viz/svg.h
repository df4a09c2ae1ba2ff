// Writes a laid-out diagram as an SVG 1.1 picture of our own making: full control of wrapping, escaping and what a
// screen reader says.
//
// - Nothing outside is referred to: no script, style sheet, font, image or link.
// - Roles follow WAI-ARIA Graphics Module 1.0 (graphics-document, graphics-symbol); boxes and lines are in tab order as
//   they stand in the diagram; title and description are the picture's name and description.
// - The legend (legend.h), the cautions and the citations stand in full under the picture.
#pragma once

#include <string>

#include "viz/diagram.h"
#include "viz/layout.h"

namespace saggar::viz {

struct SvgOptions {
    std::string id_prefix = "s";  // begins every id, so that several pictures can stand in one page; letters and digits
    bool citations = true;        // false: the page round the picture prints them
};

std::string to_svg(const Diagram& diagram, const Layout& layout, const SvgOptions& options = {});

// Lays out and writes in one go. A web too dense or too large for one picture is drawn in panels (panels.h).
std::string to_svg(const Diagram& diagram, const SvgOptions& options = {});

}  // namespace saggar::viz
