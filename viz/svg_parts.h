// The parts an SVG picture is put together from: outlines, blocks of text, badges, lines with heads.
//
// Each function writes elements at the place given in px and nothing else; svg.cpp puts them on the page.
#pragma once

#include <string_view>

#include "viz/block.h"
#include "viz/notation.h"
#include "viz/render/positions.h"
#include "viz/xml.h"

namespace saggar::viz {

inline constexpr std::string_view kFontFamily = "'DejaVu Sans', Verdana, sans-serif";

struct Rect {
    double x, y, width, height;
};

enum class Anchor { start, middle };

// One line of text; `top` is the top of its line, not the base line.
void write_text_line(XmlWriter& svg, const TextLine& line, double x, double top, Anchor anchor);

// Lines and badges centred on `centre_x`, from `top` down.
void write_block(XmlWriter& svg, const Block& block, double centre_x, double top);

void write_badge(XmlWriter& svg, Badge badge, double x, double top);

void write_outline(XmlWriter& svg, Outline outline, const Rect& rect, bool focus);

// The line and its head(s), moved by `offset`.
void write_line(XmlWriter& svg, const DiagramEdge& edge, const EdgePosition& position, const Point& offset);

}  // namespace saggar::viz
