#include "queries/cite_notes.h"

#include <algorithm>

#include "queries/cite_locator.h"
#include "queries/cite_parts.h"

namespace saggar {

namespace {

// "Ibid." stands for the note just before; only the place in the source is given anew (Chicago Manual of Style, 17th
// ed., 14.34, which prefers short notes: so it is off unless asked for).
CitedText ibid_note(const std::string& at, const std::string& quote) {
    CitedText note("Ibid.");
    if (!at.empty()) note.add(", ").add(locator_in_words(at));
    if (!quote.empty()) note.add(": ").add(in_quotation_marks(quote));
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

CitedText Notes::part_note(const NotePart& part) {
    const bool brief = !sources_.try_emplace(part.source.key, part.source).second;
    CitedText note;
    if (!part.prefix.empty()) note.add(part.prefix + " ");
    note.add(open_note(part.without_author ? without_author(part.source) : part.source, part.at, brief, style_));
    const bool closes = part.suffix.starts_with(',') || part.suffix.starts_with('.');
    if (closes) {
        note.separate(part.suffix);
    } else {
        note.add(part.suffix);
    }
    return note;
}

int Notes::number_of(const std::vector<NotePart>& parts) {
    if (parts.size() == 1 && parts[0].prefix.empty() && parts[0].suffix.empty() && !parts[0].without_author)
        return number_of(parts[0].source, parts[0].at, {});
    CitedText note;
    for (const auto& part : parts) note.separate("; ").add(part_note(part));
    CitedText capital;
    for (const auto& run : note.runs()) {
        const auto text = capital.empty() ? citing::capitalised(run.text) : run.text;
        if (run.italic) {
            capital.add_italic(text);
        } else {
            capital.add(text);
        }
    }
    capital.stop();
    last_source_ = parts.size() == 1 ? parts[0].source.key : std::string();
    const auto [place, is_new] = joint_numbers_.try_emplace(to_plain(capital), static_cast<int>(texts_.size()) + 1);
    if (is_new) texts_.push_back(std::move(capital));
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
