#include "queries/cite_draft.h"

#include <algorithm>

#include "kg/model/content_id.h"
#include "kg/model/key.h"

namespace saggar {

namespace {

bool is_id_sign(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

// "claim:" and at least four signs of an id; a key otherwise. Kinds reserved for records are no things.
bool is_name(std::string_view word) {
    if (word.starts_with("claim:")) return word.size() >= 10 && std::all_of(word.begin() + 6, word.end(), is_id_sign);
    const auto parts = split_key(word);
    return parts && !is_reserved_kind(parts->kind);
}

void add(std::vector<std::string>& names, std::string_view word) {
    if (is_name(word) && std::find(names.begin(), names.end(), word) == names.end()) names.emplace_back(word);
}

bool is_word_sign(char c) { return is_id_sign(c) || (c >= 'A' && c <= 'Z') || c == '_'; }

// The citation key that begins at `at` (after the "@"): word signs, and single marks such as ":" and "-" between them
// (pandoc manual, "Citation syntax").
std::string_view citation_key_at(std::string_view text, std::size_t at) {
    std::size_t end = at;
    while (end < text.size()) {
        const bool inside = std::string_view(":.-/#$%&+?<>~").find(text[end]) != std::string_view::npos && end > at &&
                            end + 1 < text.size() && is_word_sign(text[end + 1]);
        if (!is_word_sign(text[end]) && !inside) break;
        ++end;
    }
    return text.substr(at, end - at);
}

void add_citation(std::vector<std::string>& names, std::string_view key) {
    if (key.find(':') != std::string_view::npos) return add(names, key);
    if (!key.empty()) add(names, "source:" + std::string(key));
}

}  // namespace

std::vector<std::string> names_in_draft(std::string_view text) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text.compare(i, 2, "](") == 0) {
            const auto end = text.find_first_of(" )\n", i + 2);
            if (end != std::string_view::npos) add(names, text.substr(i + 2, end - i - 2));
        } else if (text[i] == '@' && (i == 0 || !is_word_sign(text[i - 1]))) {
            add_citation(names, citation_key_at(text, i + 1));
        } else if (text.compare(i, 6, "claim:") == 0 && (i == 0 || !is_id_sign(text[i - 1]))) {
            std::size_t end = i + 6;
            while (end < text.size() && is_id_sign(text[end])) ++end;
            add(names, text.substr(i, end - i));
        }
    }
    return names;
}

}  // namespace saggar
