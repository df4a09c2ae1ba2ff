#include "importers/csvw/role_words.h"

#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar::csvw {
namespace {

bool take_front(std::string_view& text, std::string_view word) {
    if (text.size() <= word.size() || text.substr(0, word.size()) != word) return false;
    if (text[word.size()] != ' ' && text[word.size()] != ':' && text[word.size()] != ',') return false;
    text = trim(text.substr(word.size() + 1));
    return !text.empty();
}

bool take_back(std::string_view& text, std::string_view word) {
    if (text.size() <= word.size() || text.substr(text.size() - word.size()) != word) return false;
    const char before = text[text.size() - word.size() - 1];
    if (before != ' ' && before != ',') return false;
    text = trim(text.substr(0, text.size() - word.size() - 1));
    if (!text.empty() && text.back() == ',') text.remove_suffix(1);
    return !text.empty();
}

}  // namespace

std::vector<SplitRole> split_role(std::string_view text, const std::vector<std::string>& hedges) {
    const std::string folded = fold(trim(text));
    std::vector<SplitRole> readings{{folded, ""}};
    std::string_view rest = folded;
    if (!rest.empty() && rest.back() == '?')
        readings.push_back({std::string(trim(rest.substr(0, rest.size() - 1))), "possibly"});
    for (const std::string& hedge : hedges) {
        rest = folded;
        if (take_front(rest, hedge) || take_back(rest, hedge) || take_back(rest, "(" + hedge + ")") ||
            take_front(rest, "(" + hedge + ")") || take_back(rest, "[" + hedge + "]")) {
            readings.push_back({std::string(rest), hedge});
        }
    }
    return readings;
}

}  // namespace saggar::csvw
