// Bibliography entries: the author turned round, parts closed by full stops (Chicago Manual of Style, 17th ed., 14.21).
#include "kg/model/key.h"
#include "queries/cite_csl.h"
#include "queries/cite_locator.h"
#include "queries/cite_parts.h"

namespace saggar {

using namespace citing;

namespace {

constexpr std::string_view kStop = ". ";

void sentence(CitedText& entry, std::string_view text) { add_part(entry, text, kStop); }

// The bibliography's first part is the author; a title that begins with the author's name loses it.
std::string title_without_author(const Source& source) {
    const auto names = read_names(source.author);
    const std::string title = title_or_kind(source);
    if (names.empty()) return title;
    const auto author = names.front().natural();
    if (title.starts_with(author + ", ")) return capitalised(title.substr(author.size() + 2));
    if (title.starts_with(author + "'s ")) return capitalised(title.substr(author.size() + 3));
    return capitalised(title);
}

void add_imprint(CitedText& entry, const Source& source, const CiteStyle& style) {
    std::string imprint(csl_field(source, "publisher-place"));
    if (const auto publisher = csl_field(source, "publisher"); !publisher.empty())
        imprint += (imprint.empty() ? "" : ": ") + std::string(publisher);
    if (const auto date = date_in_words(source.issued, style.dates); !date.empty())
        imprint += (imprint.empty() ? "" : ", ") + date;
    sentence(entry, imprint);
}

std::string edited_by(const Source& source, bool starts) {
    const auto editor = csl_field(source, "editor");
    if (editor.empty()) return {};
    return std::string(starts ? "Edited by " : "edited by ") + names_for_note(csl_names(editor));
}

void book_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    entry.separate(kStop).add_italic(title_or_kind(source));
    sentence(entry, edited_by(source, true));
    if (const auto edition = csl_field(source, "edition"); !edition.empty() && edition != "1" && !title_says_edition(source)) {
        const bool number = edition.find_first_not_of("0123456789") == std::string_view::npos;
        static constexpr std::string_view kEndings[] = {"th", "st", "nd", "rd", "th", "th", "th", "th", "th", "th"};
        const bool teen = edition.size() > 1 && edition[edition.size() - 2] == '1';
        sentence(entry, number ? std::string(edition) + std::string(kEndings[teen ? 0 : edition.back() - '0']) + " ed"
                               : std::string(edition));
    }
    if (const auto volume = csl_field(source, "volume"); !volume.empty())
        sentence(entry, "Vol. " + std::string(volume));
    add_imprint(entry, source, style);
}

void article_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    const auto date = date_in_words(source.issued, style.dates);
    entry.separate(kStop).add(in_quotation_marks(title_or_kind(source)));
    entry.separate(kStop).add_italic(csl_field(source, "container-title"));
    const bool journal = cite_type(source) == "article-journal" || cite_type(source) == "article";
    if (!journal || csl_field(source, "container-title").empty()) return add_part(entry, date);
    add_part(entry, csl_field(source, "volume"), " ");
    if (const auto issue = csl_field(source, "issue"); !issue.empty()) add_part(entry, "no. " + std::string(issue));
    if (!date.empty()) entry.add(" (" + date + ")");
    if (const auto page = csl_field(source, "page"); !page.empty())
        add_part(entry, locator_in_words("page=" + std::string(page), PageWords::bare), ": ");
}

void chapter_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    entry.separate(kStop).add(in_quotation_marks(title_or_kind(source)));
    entry.separate(kStop).add("In ").add_italic(csl_field(source, "container-title"));
    add_part(entry, edited_by(source, false));
    if (const auto page = csl_field(source, "page"); !page.empty())
        add_part(entry, locator_in_words("page=" + std::string(page), PageWords::bare));
    add_imprint(entry, source, style);
}

void thesis_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    entry.separate(kStop).add(in_quotation_marks(title_or_kind(source)));
    const auto genre = csl_field(source, "genre");
    sentence(entry, genre.empty() ? "Thesis" : genre);
    add_part(entry, csl_field(source, "publisher"));
    add_part(entry, date_in_words(source.issued, style.dates));
}

void web_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    entry.separate(kStop).add(in_quotation_marks(title_or_kind(source)));
    sentence(entry, csl_field(source, "container-title"));
    add_part(entry, date_in_words(source.issued, style.dates));
    if (const auto seen = csl_field(source, "accessed"); !seen.empty())
        sentence(entry, "Accessed " + date_in_words(csl_date(seen), style.dates));
}

// Papers: item and date, then where it is kept, from the box outwards.
void paper_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    Ends ends;
    // A letter's own title ("A to B, 6 May 1977") is not printed, so its date always is.
    const bool letter = cite_pattern(source) == CitePattern::letter && read_ends(source, ends);
    if (letter) {
        sentence(entry, capitalised(kind_in_note(cite_type(source))) + " to " + ends.to);
    } else {
        sentence(entry, title_without_author(source));
        if (!title_says_kind(source)) add_part(entry, kind_in_note(cite_type(source)));
    }
    if (const auto interviewer = csl_field(source, "interviewer"); !interviewer.empty()) {
        sentence(entry, "Interview by " + names_for_note(csl_names(interviewer)));
    }
    add_part(entry, letter ? date_in_words(source.issued, style.dates) : date_for_note(source, style));
    std::string box = capitalised(numbered("box", source.box));
    if (const auto folder = numbered("folder", source.folder); !folder.empty())
        box += box.empty() ? capitalised(folder) : ", " + folder;
    sentence(entry, box);
    sentence(entry, csl_field(source, "archive_location"));
    sentence(entry, csl_field(source, "call-number"));
    sentence(entry, source.collection);
    sentence(entry, source.archive);
    if (fold(source.archive).find(fold(source.place)) == std::string::npos) add_part(entry, source.place);
}

void object_entry(CitedText& entry, const Source& source, const CiteStyle& style) {
    if (cite_pattern(source) == CitePattern::artwork) {
        entry.separate(kStop).add_italic(title_or_kind(source));
    } else {
        sentence(entry, capitalised(title_or_kind(source)));
    }
    if (cite_pattern(source) == CitePattern::artwork) sentence(entry, capitalised(date_for_note(source, style)));
    sentence(entry, capitalised(csl_field(source, "medium")));
    add_part(entry, csl_field(source, "dimensions"));
    sentence(entry, source.collection);
    sentence(entry, source.archive);
    add_part(entry, source.place);
    for (const auto* field : {"call-number", "archive_location"}) sentence(entry, csl_field(source, field));
}

}  // namespace

CitedText bibliography_entry(const Source& source, const CiteStyle& style) {
    const auto pattern = cite_pattern(source);
    CitedText entry;
    if (pattern != CitePattern::piece) entry.add(names_for_bibliography(read_names(source.author)));
    switch (pattern) {
        case CitePattern::book:
            book_entry(entry, source, style);
            break;
        case CitePattern::article:
            article_entry(entry, source, style);
            break;
        case CitePattern::chapter:
            chapter_entry(entry, source, style);
            break;
        case CitePattern::thesis:
            thesis_entry(entry, source, style);
            break;
        case CitePattern::web_page:
            web_entry(entry, source, style);
            break;
        case CitePattern::artwork:
        case CitePattern::piece:
            object_entry(entry, source, style);
            break;
        case CitePattern::paper:
        case CitePattern::letter:
        case CitePattern::interview:
        case CitePattern::conversation:
            paper_entry(entry, source, style);
            break;
    }
    sentence(entry, address_of(source));
    return entry.stop();
}

std::string bibliography_order(const Source& source) {
    std::string words = fold(to_plain(bibliography_entry(source)));
    for (const std::string_view lead : {"\u201C", "\"", "\u2018", "'"}) {
        if (words.starts_with(lead)) words.erase(0, lead.size());
    }
    for (const std::string_view lead : {"the ", "a ", "an "}) {
        if (words.starts_with(lead)) words.erase(0, lead.size());
    }
    return words;
}

}  // namespace saggar
