// The text of a box or beside a line, broken into lines and measured, before anything is placed.
//
// The same blocks are measured for the layout and written into the SVG, so what was measured is what is drawn.
#pragma once

#include <string>
#include <vector>

#include "viz/diagram.h"
#include "viz/text/measure.h"

namespace saggar::viz {

// Type sizes in px and the distance from line to line as a multiple of the size.
namespace type_size {
inline constexpr double kind = 11, label = 14, note = 12, relation = 13, numbers = 12, badge = 11;
inline constexpr double line = 1.32;
}  // namespace type_size

struct TextLine {
    std::string text;
    double size = 12;
    Face face = Face::book;
    bool quiet = false;  // grey
};

// A small mark with a sign and a word.
enum class Badge { in_favour, against, disputed, ruled, caution };
std::string_view badge_sign(Badge badge);
std::string_view badge_word(Badge badge);

struct Block {
    std::vector<TextLine> lines;
    std::vector<Badge> badges;     // in one row under the lines
    double width = 0, height = 0;  // of the text, without padding
    bool empty() const { return lines.empty() && badges.empty(); }
};

// How much an outline takes from its box on each side.
struct Padding {
    double left, right, top, bottom;
};

struct Box {
    Block block;
    Padding padding{};
    double width = 0, height = 0;
};

inline constexpr double kBadgeHeight = 18, kBadgeGap = 4;
double badge_width(Badge badge);

Box box_of(const DiagramNode& node);
// The words and numbers beside a line; empty where the line says nothing.
Block block_of(const DiagramEdge& edge);

}  // namespace saggar::viz
