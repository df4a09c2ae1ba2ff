#include "queries/cite_draft.h"

#include <algorithm>

#include "kg/model/content_id.h"
#include "kg/model/key.h"
#include "queries/draft_locator.h"

namespace saggar {

namespace {

bool is_id_sign(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

// "claim:" and at least four signs of an id; a key otherwise. Kinds reserved for records are no things.
bool is_name(std::string_view word) {
    if (word.starts_with("claim:")) return word.size() >= 10 && std::all_of(word.begin() + 6, word.end(), is_id_sign);
    const auto parts = split_key(word);
    return parts && !is_reserved_kind(parts->kind);
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

// A key as a name of the graph; empty where it is none.
std::string name_of(std::string_view key) {
    if (key.empty()) return {};
    if (key.find(':') == std::string_view::npos) return "source:" + std::string(key);
    return is_name(key) ? std::string(key) : std::string();
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && (text.front() == ' ' || text.front() == '\n' || text.front() == '\r')) text.remove_prefix(1);
    while (!text.empty() && (text.back() == ' ' || text.back() == '\n' || text.back() == '\r')) text.remove_suffix(1);
    return text;
}

// The "@" that begins a key in `text` from `from` on, not one inside a word or after a backslash.
std::size_t key_mark(std::string_view text, std::size_t from) {
    for (std::size_t i = from; i < text.size(); ++i) {
        if (text[i] != '@' || (i > 0 && (is_word_sign(text[i - 1]) || text[i - 1] == '\\'))) continue;
        const bool braced = i + 1 < text.size() && text[i + 1] == '{';
        if (braced || !citation_key_at(text, i + 1).empty()) return i;
    }
    return std::string_view::npos;
}

// The key after the "@" at `mark`, bare or in braces; `end` is set behind it.
std::string_view key_after(std::string_view text, std::size_t mark, std::size_t& end) {
    if (mark + 1 < text.size() && text[mark + 1] == '{') {
        const auto close = text.find('}', mark);
        if (close != std::string_view::npos) {
            end = close + 1;
            return text.substr(mark + 2, close - mark - 2);
        }
    }
    const auto key = citation_key_at(text, mark + 1);
    end = mark + 1 + key.size();
    return key;
}

// One part of what stands in brackets, "see @key, p. 4"; false where it holds no key.
bool read_part(std::string_view text, std::vector<DraftCitation>& parts) {
    const auto mark = key_mark(text, 0);
    if (mark == std::string_view::npos) return false;
    DraftCitation part;
    std::size_t end = 0;
    part.name = name_of(key_after(text, mark, end));
    auto before = text.substr(0, mark);
    part.without_author = before.ends_with('-');
    if (part.without_author) before.remove_suffix(1);
    part.prefix = std::string(trimmed(before));
    auto locator = read_draft_locator(text.substr(end));
    part.at = std::move(locator.at);
    part.suffix = std::move(locator.suffix);
    if (!part.name.empty()) parts.push_back(std::move(part));
    return true;
}

// Everything in brackets, parts with ";" between them; one without a key belongs to no citation.
std::vector<DraftCitation> read_brackets(std::string_view inside) {
    std::vector<DraftCitation> parts;
    while (true) {
        const auto end = inside.find(';');
        if (!read_part(inside.substr(0, end), parts)) return {};
        if (end == std::string_view::npos) return parts;
        inside.remove_prefix(end + 1);
    }
}

constexpr std::size_t kLongest = 4000;  // bytes of one citation

class DraftReader {
public:
    explicit DraftReader(std::string_view text) : text_(text) {}

    std::vector<DraftMention> read() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == '\n') ++line_;
            if (c == '\\') {
                ++at_;
            } else if (c == '`') {
                skip_code();
                continue;
            } else if (c == '[' && brackets()) {
                continue;
            } else if (text_.compare(at_, 2, "](") == 0) {
                link();
            } else if (c == '@' && in_text()) {
                continue;
            } else if (text_.compare(at_, 6, "claim:") == 0 && (at_ == 0 || !is_id_sign(text_[at_ - 1]))) {
                claim_id();
                continue;
            }
            ++at_;
        }
        return std::move(mentions_);
    }

private:
    void add(std::vector<DraftCitation> parts, bool is_citation, std::size_t end) {
        if (parts.empty()) return;
        mentions_.push_back({std::move(parts), is_citation, std::string(text_.substr(at_, end - at_)), line_});
    }
    void go_to(std::size_t end) {
        line_ += static_cast<std::size_t>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(at_),
                                                     text_.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
        at_ = end;
    }

    // Code between equal runs of back-quotes is no text.
    void skip_code() {
        std::size_t run = at_;
        while (run < text_.size() && text_[run] == '`') ++run;
        const auto fence = text_.substr(at_, run - at_);
        const auto close = text_.find(fence, run);
        go_to(close == std::string_view::npos ? run : close + fence.size());
    }

    // "[…]" up to its own closing bracket; not the text of a link.
    bool brackets() {
        std::size_t depth = 0, end = at_;
        const std::size_t last = std::min(text_.size(), at_ + kLongest);
        for (; end < last; ++end) {
            if (text_[end] == '\\') ++end;
            else if (text_[end] == '[') ++depth;
            else if (text_[end] == ']' && --depth == 0) break;
            else if (text_.compare(end, 2, "\n\n") == 0) return false;
        }
        if (end >= last || (end + 1 < text_.size() && text_[end + 1] == '(')) return false;
        auto parts = read_brackets(text_.substr(at_ + 1, end - at_ - 1));
        if (parts.empty()) return false;
        add(std::move(parts), true, end + 1);
        go_to(end + 1);
        return true;
    }

    // "@key says", "@key [p. 5; @other]": the author is named by the text itself.
    bool in_text() {
        if (at_ > 0 && is_word_sign(text_[at_ - 1])) return false;
        std::size_t end = at_;
        const auto key = key_after(text_, at_, end);
        DraftCitation part;
        part.name = name_of(key);
        if (part.name.empty()) return false;
        part.without_author = true;
        std::vector<DraftCitation> further;
        std::size_t bracket = end;
        while (bracket < text_.size() && text_[bracket] == ' ') ++bracket;
        const auto close = bracket < text_.size() && text_[bracket] == '[' ? text_.find(']', bracket) : std::string_view::npos;
        if (close != std::string_view::npos && !(close + 1 < text_.size() && text_[close + 1] == '(')) {
            auto inside = text_.substr(bracket + 1, close - bracket - 1);
            const auto first_end = inside.find(';');
            if (key_mark(inside.substr(0, first_end), 0) == std::string_view::npos) {
                auto locator = read_draft_locator(", " + std::string(inside.substr(0, first_end)));
                part.at = std::move(locator.at);
                part.suffix = std::move(locator.suffix);
                if (first_end != std::string_view::npos) further = read_brackets(inside.substr(first_end + 1));
                end = close + 1;
            }
        }
        std::vector<DraftCitation> parts = {std::move(part)};
        parts.insert(parts.end(), further.begin(), further.end());
        add(std::move(parts), true, end);
        go_to(end);
        return true;
    }

    void link() {
        const auto end = text_.find_first_of(" )\n", at_ + 2);
        if (end == std::string_view::npos) return;
        plain(text_.substr(at_ + 2, end - at_ - 2));
    }

    void claim_id() {
        std::size_t end = at_ + 6;
        while (end < text_.size() && is_id_sign(text_[end])) ++end;
        plain(text_.substr(at_, end - at_));
        at_ = end;
    }

    void plain(std::string_view name) {
        if (!is_name(name)) return;
        DraftCitation part;
        part.name = std::string(name);
        mentions_.push_back({{std::move(part)}, false, {}, line_});
    }

    std::string_view text_;
    std::size_t at_ = 0, line_ = 1;
    std::vector<DraftMention> mentions_;
};

}  // namespace

std::vector<DraftMention> mentions_in_draft(std::string_view text) { return DraftReader(text).read(); }

std::vector<std::string> names_in_draft(std::string_view text) {
    std::vector<std::string> names;
    for (const auto& mention : mentions_in_draft(text)) {
        for (const auto& part : mention.parts) {
            if (std::find(names.begin(), names.end(), part.name) == names.end()) names.push_back(part.name);
        }
    }
    return names;
}

}  // namespace saggar
