#include "queries/cite.h"

#include "queries/cite_csl.h"
#include "queries/cite_locator.h"
#include "queries/cite_parts.h"

namespace saggar {

using namespace citing;

namespace {

std::string edition_words(std::string_view edition) {
    if (edition == "1" || edition.empty()) return {};
    if (edition.find_first_not_of("0123456789") != std::string_view::npos) return std::string(edition);
    const char last = edition.back();
    const bool teen = edition.size() > 1 && edition[edition.size() - 2] == '1';
    const char* ending = teen ? "th" : last == '1' ? "st" : last == '2' ? "nd" : last == '3' ? "rd" : "th";
    return std::string(edition) + ending + " ed.";
}

// "(Leeds: Plain Press, 1974)"; what is missing is left out.
void add_imprint_in_brackets(CitedText& note, const Source& source, const CiteStyle& style) {
    std::string imprint(csl_field(source, "publisher-place"));
    if (const auto publisher = csl_field(source, "publisher"); !publisher.empty())
        imprint += (imprint.empty() ? "" : ": ") + std::string(publisher);
    if (const auto date = date_in_words(source.issued, style.dates); !date.empty())
        imprint += (imprint.empty() ? "" : ", ") + date;
    if (!imprint.empty()) note.add(" (" + imprint + ")");
}

void add_series(CitedText& note, const Source& source) {
    add_part(note, csl_field(source, "volume"), " ");
    if (const auto issue = csl_field(source, "issue"); !issue.empty()) add_part(note, "no. " + std::string(issue));
}

void book_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, names_for_note(read_names(source.author)));
    note.separate(", ").add_italic(title_or_kind(source));
    if (const auto editor = csl_field(source, "editor"); !editor.empty())
        add_part(note, "ed. " + names_for_note(csl_names(editor)));
    if (!title_says_edition(source)) add_part(note, edition_words(csl_field(source, "edition")));
    if (const auto volume = csl_field(source, "volume"); !volume.empty()) add_part(note, "vol. " + std::string(volume));
    add_imprint_in_brackets(note, source, style);
    add_part(note, locator);
}

// Journals have volume and number and put the date in brackets; magazines and newspapers are known by their date alone.
void article_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, names_for_note(read_names(source.author)));
    note.separate(", ").add(in_quotation_marks(title_or_kind(source)));
    note.separate(", ").add_italic(csl_field(source, "container-title"));
    const auto date = date_in_words(source.issued, style.dates);
    const bool journal = cite_type(source) == "article-journal" || cite_type(source) == "article";
    if (journal && !csl_field(source, "container-title").empty()) {
        add_series(note, source);
        if (!date.empty()) note.add(" (" + date + ")");
        add_part(note, locator, ": ");
    } else {
        add_part(note, date);
        add_part(note, locator);
    }
}

void chapter_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, names_for_note(read_names(source.author)));
    note.separate(", ").add(in_quotation_marks(title_or_kind(source)));
    note.separate(", ").add("in ").add_italic(csl_field(source, "container-title"));
    if (const auto editor = csl_field(source, "editor"); !editor.empty())
        add_part(note, "ed. " + names_for_note(csl_names(editor)));
    add_imprint_in_brackets(note, source, style);
    add_part(note, locator);
}

void thesis_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, names_for_note(read_names(source.author)));
    note.separate(", ").add(in_quotation_marks(title_or_kind(source)));
    std::string about(csl_field(source, "genre"));
    if (about.empty()) about = "thesis";
    if (const auto school = csl_field(source, "publisher"); !school.empty()) about += ", " + std::string(school);
    if (const auto date = date_in_words(source.issued, style.dates); !date.empty()) about += ", " + date;
    note.add(" (" + about + ")");
    add_part(note, locator);
}

void web_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, names_for_note(read_names(source.author)));
    note.separate(", ").add(in_quotation_marks(title_or_kind(source)));
    add_part(note, csl_field(source, "container-title"));
    add_part(note, locator);
    add_part(note, date_in_words(source.issued, style.dates));
    if (const auto seen = csl_field(source, "accessed"); !seen.empty())
        add_part(note, "accessed " + date_in_words(csl_date(seen), style.dates));
}

void paper_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, author_for_note(source));
    add_part(note, title_or_kind(source));
    if (!title_says_kind(source)) add_part(note, kind_in_note(cite_type(source)));
    add_part(note, date_for_note(source, style));
    add_part(note, locator);
    add_keeping(note, source);
}

void letter_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    Ends ends;
    if (!read_ends(source, ends)) return paper_note(note, source, locator, style);
    add_part(note, ends.from + " to " + ends.to);
    if (cite_type(source) != "letter" && cite_type(source) != "personal_communication")
        add_part(note, kind_in_note(cite_type(source)));
    add_part(note, date_in_words(source.issued, style.dates));
    add_part(note, locator);
    add_keeping(note, source);
}

void interview_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, author_for_note(source));
    add_part(note, title_or_kind(source));
    const auto interviewer = csl_field(source, "interviewer");
    if (!interviewer.empty()) add_part(note, "interview by " + names_for_note(csl_names(interviewer)));
    if (interviewer.empty() && !title_says_kind(source)) add_part(note, kind_in_note(cite_type(source)));
    add_part(note, date_for_note(source, style));
    add_part(note, locator);
    add_keeping(note, source);
}

void conversation_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, author_for_note(source));
    const auto with = csl_field(source, "recipient");
    const bool bare = source.title.empty() && !with.empty();
    const char* joint = cite_type(source) == "message" ? " to " : " with ";
    add_part(note, bare ? title_or_kind(source) + joint + names_for_note(csl_names(with)) : title_or_kind(source));
    add_part(note, date_for_note(source, style));
    add_part(note, locator);
    add_keeping(note, source);
}

void add_object_facts(CitedText& note, const Source& source) {
    add_part(note, csl_field(source, "medium"));
    add_part(note, csl_field(source, "dimensions"));
}

void add_holder(CitedText& note, const Source& source) {
    add_part(note, source.collection);
    add_part(note, source.archive);
    add_part(note, source.place);
    for (const auto* field : {"call-number", "archive_location"}) add_part(note, csl_field(source, field));
}

void artwork_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, names_for_note(read_names(source.author)));
    note.separate(", ").add_italic(title_or_kind(source));
    add_part(note, date_for_note(source, style));
    add_object_facts(note, source);
    add_holder(note, source);
    add_part(note, locator);
}

void piece_note(CitedText& note, const Source& source, std::string_view locator, const CiteStyle& style) {
    add_part(note, title_or_kind(source));
    add_object_facts(note, source);
    add_holder(note, source);
    add_part(note, locator);
    const auto date = date_for_note(source, style);
    const auto by = author_for_note(source);
    std::string examined = "examined";
    if (!by.empty()) examined += " by " + by;
    if (!date.empty()) examined += (by.empty() ? " " : ", ") + date;
    if (examined != "examined") add_part(note, examined);
}

void add_note(CitedText& note, const Source& source, std::string_view at, const CiteStyle& style) {
    const auto bare = locator_in_words(at, PageWords::bare), with_p = locator_in_words(at, PageWords::with_p);
    switch (cite_pattern(source)) {
        case CitePattern::paper:
            return paper_note(note, source, with_p, style);
        case CitePattern::letter:
            return letter_note(note, source, with_p, style);
        case CitePattern::book:
            return book_note(note, source, bare, style);
        case CitePattern::article:
            return article_note(note, source, bare, style);
        case CitePattern::chapter:
            return chapter_note(note, source, bare, style);
        case CitePattern::thesis:
            return thesis_note(note, source, bare, style);
        case CitePattern::web_page:
            return web_note(note, source, bare, style);
        case CitePattern::interview:
            return interview_note(note, source, with_p, style);
        case CitePattern::conversation:
            return conversation_note(note, source, with_p, style);
        case CitePattern::artwork:
            return artwork_note(note, source, with_p, style);
        case CitePattern::piece:
            return piece_note(note, source, with_p, style);
    }
}

}  // namespace

CitedText open_full_note(const Source& source, std::string_view at, const CiteStyle& style) {
    CitedText note;
    add_note(note, source, at, style);
    add_part(note, address_of(source));
    return note;
}

CitedText open_note(const Source& source, std::string_view at, bool brief, const CiteStyle& style) {
    return brief ? open_short_note(source, at, style) : open_full_note(source, at, style);
}

CitedText full_note(const Source& source, std::string_view at, std::string_view quote, const CiteStyle& style) {
    auto note = open_full_note(source, at, style);
    if (!quote.empty()) note.separate(": ").add(in_quotation_marks(quote));
    return note.stop();
}

}  // namespace saggar
