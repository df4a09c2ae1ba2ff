#include "queries/cite_name.h"

#include <algorithm>
#include <functional>

namespace saggar {

namespace {

std::string trimmed_name(std::string_view text) {
    const auto first = text.find_first_not_of(' ');
    if (first == std::string_view::npos) return {};
    return std::string(text.substr(first, text.find_last_not_of(' ') - first + 1));
}

bool is_body_word(std::string_view word) {
    static constexpr std::string_view kWords[] = {
        "&",          "Company",    "Co.",      "Ltd",    "Ltd.",   "Limited", "Inc.",    "Society",   "Museum",
        "Library",    "Archive",    "Archives", "Office", "Works",  "Pottery", "Council", "Committee", "Association",
        "Department", "University", "College",  "Press",  "Club",   "Hotels",  "Lines",   "Institute", "Board",
        "Ministry",   "Gallery",    "Partners", "Centre", "Center", "of",      "the",     "The"};
    return std::find(std::begin(kWords), std::end(kWords), word) != std::end(kWords);
}

bool is_body(std::string_view name) {
    while (!name.empty()) {
        const auto end = name.find(' ');
        if (is_body_word(name.substr(0, end))) return true;
        name.remove_prefix(end == std::string_view::npos ? name.size() : end + 1);
    }
    return false;
}

CitedName read_name(std::string_view text) {
    if (const auto comma = text.find(','); comma != std::string_view::npos && !is_body(text)) {
        return {trimmed_name(text.substr(0, comma)), trimmed_name(text.substr(comma + 1)), {}};
    }
    const auto blank = text.rfind(' ');
    if (blank == std::string_view::npos || is_body(text)) return {trimmed_name(text), {}, {}};
    return {trimmed_name(text.substr(blank + 1)), trimmed_name(text.substr(0, blank)), {}};
}

// Cuts at `separator`; pieces are trimmed_name, empty ones dropped.
std::vector<std::string> pieces_of(std::string_view text, std::string_view separator) {
    std::vector<std::string> pieces;
    while (true) {
        const auto at = text.find(separator);
        if (auto piece = trimmed_name(text.substr(0, at)); !piece.empty()) pieces.push_back(std::move(piece));
        if (at == std::string_view::npos) return pieces;
        text.remove_prefix(at + separator.size());
    }
}

std::string listed(const std::vector<std::string>& names) {
    std::string out;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0) out += names.size() > 2 ? ", " : " ";
        if (i > 0 && i + 1 == names.size()) out += "and ";
        out += names[i];
    }
    return out;
}

std::string listed_or_et_al(const std::vector<CitedName>& names,
                            const std::function<std::string(const CitedName&)>& form) {
    if (names.empty()) return {};
    if (names.size() > 3) return form(names.front()) + " et al.";
    std::vector<std::string> forms;
    for (const auto& name : names) forms.push_back(form(name));
    return listed(forms) + names.back().others;
}

}  // namespace

std::string CitedName::natural() const { return given.empty() ? family : given + " " + family; }
std::string CitedName::inverted() const { return given.empty() ? family : family + ", " + given; }

std::vector<CitedName> read_names(std::string_view text) {
    std::string rest(text), others;
    for (const std::string_view tail : {" and others", " et al."}) {
        if (rest.ends_with(tail)) {
            others = tail;
            rest.resize(rest.size() - tail.size());
        }
    }
    std::vector<CitedName> names;
    for (const auto& piece : pieces_of(rest, ";")) {
        const bool one = is_body(piece) || piece.find(',') != std::string::npos;
        for (const auto& name : one ? std::vector<std::string>{piece} : pieces_of(piece, " and "))
            names.push_back(read_name(name));
    }
    if (!names.empty()) names.back().others = others;
    return names;
}

std::string names_for_note(const std::vector<CitedName>& names) { return listed_or_et_al(names, &CitedName::natural); }

std::string names_for_short_note(const std::vector<CitedName>& names) {
    return listed_or_et_al(names, [](const CitedName& name) { return name.family; });
}

std::string names_for_bibliography(const std::vector<CitedName>& names) {
    if (names.empty()) return {};
    const std::size_t shown = names.size() > 10 ? 7 : names.size();
    std::string out;
    for (std::size_t i = 0; i < shown; ++i) {
        if (i > 0) out += shown == names.size() && i + 1 == shown ? ", and " : ", ";
        out += i == 0 ? names[i].inverted() : names[i].natural();
    }
    if (shown < names.size()) return out + ", et al.";
    return out + names.back().others;
}

}  // namespace saggar
