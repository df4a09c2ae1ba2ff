// Short notes: what a source is called from its second mention on (Chicago Manual of Style, 17th ed., 14.30 to 14.33).
#include <algorithm>
#include <vector>

#include "queries/cite_locator.h"
#include "queries/cite_parts.h"

namespace saggar {

using namespace citing;

namespace {

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    while (!text.empty()) {
        const auto end = text.find(' ');
        if (end != 0) words.push_back(text.substr(0, end));
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return words;
}

bool is_article_word(std::string_view word) {
    return word == "The" || word == "A" || word == "An" || word == "the" || word == "a" || word == "an";
}

// Words a shortened title must not end in.
bool is_link_word(std::string_view word) {
    return is_article_word(word) || word == "of" || word == "in" || word == "and" || word == "for" || word == "to" ||
           word == "on" || word == "at" || word == "from" || word == "by" || word == "with" || word == "&";
}

// Keeps at most `most` words and ends before a phrase that would be cut in two: "Stand at the winter fair" -> "Stand".
void cut_at_phrase(std::vector<std::string_view>& words, std::size_t most) {
    const bool inside_phrase = !is_link_word(words[most]);
    words.resize(most);
    const auto strip = [&words] {
        while (words.size() > 1 && is_link_word(words.back())) words.pop_back();
    };
    const auto link = std::find_if(words.rbegin(), words.rend(), is_link_word);
    if (inside_phrase && !is_link_word(words.back()) && link != words.rend() && words.rend() - link > 1)
        words.erase(link.base(), words.end());
    strip();
}

std::string family_of(std::string_view name) {
    const auto names = read_names(name);
    return names.empty() ? std::string(name) : names_for_short_note(names);
}

bool is_printed(CitePattern pattern) {
    return pattern == CitePattern::book || pattern == CitePattern::article || pattern == CitePattern::chapter ||
           pattern == CitePattern::thesis || pattern == CitePattern::web_page;
}

void short_letter(CitedText& note, const Source& source, const Ends& ends, const CiteStyle& style) {
    add_part(note, family_of(ends.from) + " to " + family_of(ends.to));
    add_part(note, date_in_words(source.issued, style.dates));
}

// The title without the author it begins with.
std::string title_after_author(const Source& source) {
    const auto names = read_names(source.author);
    std::string title = title_or_kind(source);
    if (names.empty()) return title;
    const auto author = names.front().natural() + ", ";
    return title.starts_with(author) ? title.substr(author.size()) : title;
}

void short_paper(CitedText& note, const Source& source, const CiteStyle& style) {
    const auto title = title_after_author(source);
    if (!title_names_author(source) || title != title_or_kind(source))
        add_part(note, names_for_short_note(read_names(source.author)));
    const auto brief = short_title(title);
    add_part(note, brief);
    if (!title_tells_date(brief, source.issued)) add_part(note, date_in_words(source.issued, style.dates));
}

}  // namespace

std::string short_title(std::string_view title, std::size_t most_words) {
    auto words = words_of(title.substr(0, title.find_first_of(":;")));
    const auto comma = title.find(", ");
    if (words.size() > most_words && comma != std::string_view::npos) words = words_of(title.substr(0, comma));
    if (words.size() > 1 && is_article_word(words.front())) words.erase(words.begin());
    if (words.size() > most_words) cut_at_phrase(words, most_words);
    std::string out;
    for (const auto word : words) out += (out.empty() ? "" : " ") + std::string(word);
    return out.size() < title.size() && title.find(out) > 0 ? capitalised(out) : out;
}

std::string source_name(const Source& source) {
    Ends ends;
    if (cite_pattern(source) == CitePattern::letter && read_ends(source, ends))
        return family_of(ends.from) + " to " + family_of(ends.to);
    const auto title = title_after_author(source);
    std::string name;
    if (!title_names_author(source) || title != title_or_kind(source))
        name = names_for_short_note(read_names(source.author));
    return name + (name.empty() ? "" : ", ") + short_title(title, 8);
}

Source without_author(Source source) {
    source.title = title_after_author(source);
    source.author.clear();
    return source;
}

CitedText open_short_note(const Source& source, std::string_view at, const CiteStyle& style) {
    const auto pattern = cite_pattern(source);
    CitedText note;
    Ends ends;
    if (pattern == CitePattern::letter && read_ends(source, ends)) {
        short_letter(note, source, ends, style);
    } else if (is_printed(pattern)) {
        add_part(note, names_for_short_note(read_names(source.author)));
        note.separate(", ");
        if (pattern == CitePattern::book) {
            note.add_italic(short_title(title_or_kind(source)));
        } else {
            note.add(in_quotation_marks(short_title(title_or_kind(source))));
        }
    } else {
        short_paper(note, source, style);
    }
    add_part(note, locator_in_words(at, is_printed(pattern) ? PageWords::bare : PageWords::with_p));
    if (!is_printed(pattern)) add_part(note, source.collection);
    return note;
}

CitedText short_note(const Source& source, std::string_view at, std::string_view quote, const CiteStyle& style) {
    auto note = open_short_note(source, at, style);
    if (!quote.empty()) note.separate(": ").add(in_quotation_marks(quote));
    return note.stop();
}

}  // namespace saggar
