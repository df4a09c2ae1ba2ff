#include "importers/csvw/language.h"

namespace saggar::csvw {

bool is_language(std::string_view text) {
    std::size_t run = 0;
    bool first = true;
    for (const char c : text) {
        if (c == '-') {
            if (run == 0) return false;
            run = 0;
            first = false;
            continue;
        }
        const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
        if ((!letter && (first || c < '0' || c > '9')) || ++run > 8) return false;
    }
    return run > 0;
}

}  // namespace saggar::csvw
