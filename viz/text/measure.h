// How wide a text is, without a font system: the same on every machine.
//
// The table holds the advance widths of DejaVu Sans 2.37 (book and bold). It is among the widest common sans serif
// faces, so a text measured here also fits in the narrower face another machine may use. Signs outside the table get
// a safe width: letters with marks that of their base letter, wide East Asian signs and emoji more than one em, marks
// nothing. Kerning is left out; it would only make a line shorter. Cost: a table look-up per sign.
#pragma once

#include <string_view>

namespace saggar::viz {

enum class Face { book, bold };

// Width in the unit of `size` (pixels where size is in pixels). `text` is UTF-8.
double text_width(std::string_view text, double size, Face face = Face::book);

// Advance of one code point in thousandths of the type size.
double sign_advance(char32_t sign, Face face);

}  // namespace saggar::viz
