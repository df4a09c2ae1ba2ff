// Compares a text with a file under tests/viz/golden. SAGGAR_BLESS=1 in the environment writes the file instead; look
// at the difference before committing it.
#pragma once

#include <string>

namespace saggar::testing {

// What the file holds; empty where it is missing. With SAGGAR_BLESS the text is written first.
std::string golden(const std::string& name, const std::string& text);

}  // namespace saggar::testing
