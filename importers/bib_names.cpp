#include "importers/bib_names.h"

#include <algorithm>
#include <string>

#include "importers/tex_text.h"
#include "importers/words.h"

namespace saggar {
namespace {

bool is_blank(char c) { return c == ' ' || c == '\n' || c == '\t' || c == '\r' || c == '~'; }

// Parts of a text between separators that stand outside braces, trimmed.
template <class IsSeparator>
std::vector<std::string_view> parts_of(std::string_view tex, IsSeparator separator) {
    std::vector<std::string_view> parts;
    std::size_t depth = 0, from = 0;
    for (std::size_t i = 0; i < tex.size(); ++i) {
        if (tex[i] == '\\') {
            ++i;
        } else if (tex[i] == '{') {
            ++depth;
        } else if (tex[i] == '}') {
            depth -= depth > 0;
        } else if (const std::size_t length = depth == 0 ? separator(i) : 0; length != 0) {
            parts.push_back(trim(tex.substr(from, i - from)));
            from = i + length;
            i = from - 1;
        }
    }
    parts.push_back(trim(tex.substr(std::min(from, tex.size()))));
    return parts;
}

std::string plain(std::string_view tex) { return std::string(trim(text_of_tex(tex))); }

// A word of the "von" part: its first letter is small. Words in braces count as capital.
bool is_small(std::string_view word) { return !word.empty() && word.front() >= 'a' && word.front() <= 'z'; }

std::string joined(const std::vector<std::string_view>& words, std::size_t from, std::size_t to) {
    std::string out;
    for (std::size_t i = from; i < to; ++i) out += (out.empty() ? "" : " ") + plain(words[i]);
    return out;
}

BibName name_of_tex(std::string_view one) {
    BibName name;
    const bool body = one.front() == '{' && one.back() == '}' && one.find('}') == one.size() - 1;
    const auto commas = parts_of(one, [&](std::size_t i) { return std::size_t{one[i] == ','}; });
    if (body || (commas.size() == 1 && one.find_first_of(" \n\t~") == std::string_view::npos)) {
        name.literal = plain(one);
    } else if (commas.size() > 1) {
        name.family = plain(commas[0]);
        name.given = plain(commas.back());
        if (commas.size() == 3) name.suffix = plain(commas[1]);
        if (commas.size() > 3) name = {"", "", plain(one)};
        if (name.given.empty() && !name.family.empty() && commas.size() == 2) name = {"", "", name.family};
    } else {
        std::vector<std::string_view> words = parts_of(one, [&](std::size_t i) { return std::size_t{is_blank(one[i])}; });
        words.erase(std::remove(words.begin(), words.end(), std::string_view()), words.end());
        std::size_t last = words.size() - 1;  // where the family name begins: at the first small word, not at the end
        for (std::size_t i = 0; i + 1 < words.size(); ++i) {
            if (!is_small(words[i])) continue;
            last = i;
            break;
        }
        name.family = joined(words, last, words.size());
        name.given = joined(words, 0, last);
        if (name.given.empty()) name = {"", "", name.family};
    }
    return name;
}

}  // namespace

std::vector<BibName> names_of_tex(std::string_view tex) {
    std::vector<BibName> names;
    const auto between = [&](std::size_t i) {
        const bool parts = i + 5 <= tex.size() && is_blank(tex[i]) && tex.substr(i + 1, 3) == "and" && is_blank(tex[i + 4]);
        return parts ? std::size_t{4} : std::size_t{0};  // the last blank may part the next name
    };
    for (const std::string_view one : parts_of(tex, between))
        if (!one.empty()) names.push_back(name_of_tex(one));
    return names;
}

}  // namespace saggar
