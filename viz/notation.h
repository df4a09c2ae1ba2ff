// The notation of all pictures in one place: outlines of kinds, line styles of weights, colours. NOTATION.md shows it.
//
// No meaning rests on colour alone: a kind is told by outline and word, a weight by line style and number, for and
// against by a mark and by side. Colours are those of Okabe and Ito, "Color Universal Design" (2002, revised 2008).
#pragma once

#include <string>
#include <string_view>

#include "viz/diagram.h"

namespace saggar::viz {

namespace colour {
inline constexpr std::string_view black = "#000000";
inline constexpr std::string_view orange = "#E69F00";
inline constexpr std::string_view sky_blue = "#56B4E9";
inline constexpr std::string_view bluish_green = "#009E73";
inline constexpr std::string_view yellow = "#F0E442";
inline constexpr std::string_view blue = "#0072B2";
inline constexpr std::string_view vermillion = "#D55E00";
inline constexpr std::string_view reddish_purple = "#CC79A7";
inline constexpr std::string_view ink = "#1A1A1A";   // text
inline constexpr std::string_view grey = "#595959";  // small text; contrast on white 7.0 : 1
inline constexpr std::string_view paper = "#FFFFFF";
}  // namespace colour

// The outline for a kind of the vocabulary, from the class the vocabulary maps it to ("crm:E21_Person"); a kind
// mapped to a class not named here is a plain box, and its word tells it.
Outline outline_of_class(std::string_view mapped_class);

// The name of an outline in words, for the legend's description: "box with a folded corner".
std::string_view outline_in_words(Outline outline);

// Colour of an outline's border.
std::string_view border_colour(Outline outline);

// Weights are drawn in four bands. The bounds are those where likelihood words change in ICD 203 (likely from .55, very
// likely from .80, unlikely below .45 with "roughly even chance" between; very unlikely below .20).
enum class Band { strong, fair, weak, faint };
Band band_of(double weight);

struct LineStyle {
    double width;             // px
    std::string_view dashes;  // SVG stroke-dasharray, empty: solid
    std::string_view dot;     // Graphviz style
    std::string_view words;   // "weight .80 and more"
};
LineStyle line_style(Band band);
inline constexpr LineStyle kUnweighed{1.4, "", "solid", "no weight given"};

// Blue for, vermillion against, ink otherwise; never the only sign of it.
std::string_view line_colour(const DiagramEdge& edge);

// "0.87"; "0.00" and "1.00" are only printed for exact 0 and 1, else "<0.01" and ">0.99".
std::string weight_text(double weight);

// "[1, 2, 5]"; "[1-4]" for three and more in a row; empty where there are none.
std::string numbers_text(const std::vector<int>& numbers);

}  // namespace saggar::viz
