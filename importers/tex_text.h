// Text as TeX writes it: accents, letters, dashes, escapes; into Unicode and back.
#pragma once

#include <string>
#include <string_view>

namespace saggar {

// The letter for an accent command (`"`, `'`, "c", ...) and its base, composed; base and combining mark where there is no
// composed letter; empty where the accent is unknown.
std::string accented_letter(std::string_view accent, std::string_view base);

// The letter for a command without an argument: "ss", "ae", "o", "&", ...; empty where it is unknown.
std::string_view tex_symbol(std::string_view command);

// TeX's way to write letters into letters: \"o, {\ss}, \'{e}, --, ~, \&; braces and commands that only say how words look are
// dropped, a command that is not known stays as it is written. Linear.
std::string text_of_tex(std::string_view tex);

// A field that holds no TeX, such as a URL, without the escapes that people write in one all the same. Linear.
std::string text_of_verbatim(std::string_view tex);

// A text with what TeX would take for a command escaped; letters beyond ASCII stay (biblatex and modern BibTeX read UTF-8).
std::string tex_escaped(std::string_view text);

}  // namespace saggar
