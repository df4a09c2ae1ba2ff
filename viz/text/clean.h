// Makes any bytes into text that may stand in a picture: valid UTF-8, no control signs, one line.
//
// What cannot be shown is not dropped but shown as U+FFFD, so that a reader sees that something stood there. Signs
// that would turn the reading order of what follows (U+202A-U+202E, U+2066-U+2069; "Trojan Source", Boucher and
// Anderson 2021) are shown as U+FFFD too. XML 1.0 (section 2.2) allows every sign that is left. Cost: one pass.
#pragma once

#include <string>
#include <string_view>

namespace saggar::viz {

// One line of text. Tabs and line ends become single blanks, blanks at both ends go.
std::string clean_line(std::string_view bytes);

// True where the first strongly directed sign of `text` runs right to left (UAX 9, rule P2).
bool reads_right_to_left(std::string_view text);

// True where any sign of `text` belongs to a script that runs right to left.
bool holds_right_to_left(std::string_view text);

}  // namespace saggar::viz
