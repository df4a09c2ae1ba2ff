#include "queries/cite_notes.h"

#include <algorithm>

#include "queries/cite_locator.h"

namespace saggar {

namespace {

// "Ibid." stands for the note just before; only the place in the source is given anew (Chicago Manual of Style, 17th
// ed., 14.34, which prefers short notes: so it is off unless asked for).
CitedText ibid_note(const std::string& at, const std::string& quote) {
    CitedText note("Ibid.");
    if (!at.empty()) note.add(", ").add(locator_in_words(at));
    if (!quote.empty()) note.add(": ").add(quoted(quote));
    return note.stop();
}

}  // namespace

int Notes::number_of(const Source& source, const std::string& at, const std::string& quote) {
    const auto [place, is_new] = numbers_.try_emplace({source.key, at, quote}, static_cast<int>(texts_.size()) + 1);
    if (!is_new) return place->second;
    const bool first = sources_.try_emplace(source.key, source).second;
    if (first) {
        texts_.push_back(full_note(source, at, quote, style_));
    } else if (style_.ibid && last_source_ == source.key) {
        texts_.push_back(ibid_note(at, quote));
    } else {
        texts_.push_back(short_note(source, at, quote, style_));
    }
    last_source_ = source.key;
    return place->second;
}

std::vector<Source> Notes::bibliography() const {
    std::vector<std::pair<std::string, Source>> ordered;
    for (const auto& [key, source] : sources_) ordered.emplace_back(bibliography_order(source), source);
    std::stable_sort(ordered.begin(), ordered.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<Source> sources;
    for (auto& [order, source] : ordered) sources.push_back(std::move(source));
    return sources;
}

}  // namespace saggar
