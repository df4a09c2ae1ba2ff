#include "importers/csl_fields.h"

#include <algorithm>
#include <iterator>

namespace saggar {
namespace {

// Sorted, so that a look-up is a binary search; a test checks the order.
constexpr std::string_view item_types[] = {"article",
                                           "article-journal",
                                           "article-magazine",
                                           "article-newspaper",
                                           "bill",
                                           "book",
                                           "broadcast",
                                           "chapter",
                                           "classic",
                                           "collection",
                                           "dataset",
                                           "document",
                                           "entry",
                                           "entry-dictionary",
                                           "entry-encyclopedia",
                                           "figure",
                                           "graphic",
                                           "hearing",
                                           "interview",
                                           "legal_case",
                                           "legislation",
                                           "manuscript",
                                           "map",
                                           "motion_picture",
                                           "musical_score",
                                           "pamphlet",
                                           "paper-conference",
                                           "patent",
                                           "performance",
                                           "periodical",
                                           "personal_communication",
                                           "post",
                                           "post-weblog",
                                           "regulation",
                                           "report",
                                           "review",
                                           "review-book",
                                           "software",
                                           "song",
                                           "speech",
                                           "standard",
                                           "thesis",
                                           "treaty",
                                           "webpage"};

constexpr std::string_view name_variables[] = {"author",
                                               "chair",
                                               "collection-editor",
                                               "compiler",
                                               "composer",
                                               "container-author",
                                               "contributor",
                                               "curator",
                                               "director",
                                               "editor",
                                               "editorial-director",
                                               "executive-producer",
                                               "illustrator",
                                               "interviewer",
                                               "organizer",
                                               "original-author",
                                               "performer",
                                               "producer",
                                               "recipient",
                                               "reviewed-author",
                                               "translator"};

constexpr std::string_view date_variables[] = {"accessed", "available-date", "container", "event-date",
                                               "issued",   "original-date",  "submitted"};

constexpr std::string_view text_variables[] = {"DOI",
                                               "ISAN",
                                               "ISBN",
                                               "ISCI",
                                               "ISMN",
                                               "ISRC",
                                               "ISSN",
                                               "ISWC",
                                               "PMCID",
                                               "PMID",
                                               "URL",
                                               "abstract",
                                               "annote",
                                               "archive",
                                               "archive-place",
                                               "archive_collection",
                                               "archive_location",
                                               "authority",
                                               "call-number",
                                               "chapter-number",
                                               "citation-label",
                                               "citation-number",
                                               "collection-number",
                                               "collection-title",
                                               "container-title",
                                               "container-title-short",
                                               "dimensions",
                                               "division",
                                               "edition",
                                               "event",
                                               "event-place",
                                               "first-reference-note-number",
                                               "genre",
                                               "id",
                                               "issue",
                                               "journalAbbreviation",
                                               "jurisdiction",
                                               "keyword",
                                               "language",
                                               "locator",
                                               "medium",
                                               "note",
                                               "number",
                                               "number-of-pages",
                                               "number-of-volumes",
                                               "original-publisher",
                                               "original-publisher-place",
                                               "original-title",
                                               "page",
                                               "page-first",
                                               "part",
                                               "part-title",
                                               "printing",
                                               "publisher",
                                               "publisher-place",
                                               "references",
                                               "reviewed-title",
                                               "scale",
                                               "section",
                                               "shortTitle",
                                               "source",
                                               "status",
                                               "supplement",
                                               "title",
                                               "title-short",
                                               "translated-title",
                                               "translated-title-short",
                                               "type",
                                               "version",
                                               "volume",
                                               "year-suffix"};

template <std::size_t n>
bool holds(const std::string_view (&sorted)[n], std::string_view word) {
    return std::binary_search(std::begin(sorted), std::end(sorted), word);
}

}  // namespace

CslType csl_type(std::string_view variable) {
    if (holds(text_variables, variable)) return CslType::text;
    if (holds(name_variables, variable)) return CslType::names;
    if (holds(date_variables, variable)) return CslType::date;
    return CslType::unknown;
}

std::string_view csl_variable_of_folded(std::string_view folded) {
    const auto same = [&](std::string_view name) {
        return std::equal(name.begin(), name.end(), folded.begin(), folded.end(),
                          [](char a, char b) { return (a >= 'A' && a <= 'Z' ? static_cast<char>(a - 'A' + 'a') : a) == b; });
    };
    for (const std::string_view name : text_variables)
        if (same(name)) return name;
    for (const std::string_view name : name_variables)
        if (same(name)) return name;
    for (const std::string_view name : date_variables)
        if (same(name)) return name;
    return {};
}

bool is_csl_item_type(std::string_view type) {
    return holds(item_types, type);
}

}  // namespace saggar
