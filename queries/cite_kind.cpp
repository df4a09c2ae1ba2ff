#include "queries/cite_kind.h"

#include <algorithm>
#include <optional>
#include <utility>

namespace saggar {

namespace {

struct Kind {
    std::string_view type;
    CitePattern pattern;
    std::string_view word;
};

constexpr Kind kKinds[] = {
    {"letter", CitePattern::letter, "letter"},
    {"letters", CitePattern::paper, "letters"},
    {"memo", CitePattern::letter, "memorandum"},
    {"personal_communication", CitePattern::letter, "letter"},
    {"journal", CitePattern::paper, "journal"},
    {"diary", CitePattern::paper, "diary"},
    {"ledger", CitePattern::paper, "ledger"},
    {"order-book", CitePattern::paper, "order book"},
    {"photograph", CitePattern::paper, "photograph"},
    {"drawing", CitePattern::paper, "drawing"},
    {"minutes", CitePattern::paper, "minutes"},
    {"contract", CitePattern::paper, "contract"},
    {"price-list", CitePattern::paper, "price list"},
    {"notebook", CitePattern::paper, "notebook"},
    {"manuscript", CitePattern::paper, ""},
    {"museum-record", CitePattern::paper, "object record"},
    {"book", CitePattern::book, ""},
    {"guide", CitePattern::book, ""},
    {"report", CitePattern::book, "report"},
    {"pamphlet", CitePattern::book, ""},
    {"catalogue", CitePattern::book, "catalogue"},
    {"sale-catalogue", CitePattern::book, "sale catalogue"},
    {"article", CitePattern::article, ""},
    {"article-journal", CitePattern::article, ""},
    {"article-magazine", CitePattern::article, ""},
    {"article-newspaper", CitePattern::article, ""},
    {"trade-notice", CitePattern::article, "trade notice"},
    {"advertisement", CitePattern::article, "advertisement"},
    {"newspaper", CitePattern::article, ""},
    {"periodical", CitePattern::article, ""},
    {"obituary", CitePattern::article, "obituary"},
    {"chapter", CitePattern::chapter, ""},
    {"thesis", CitePattern::thesis, ""},
    {"web-page", CitePattern::web_page, ""},
    {"webpage", CitePattern::web_page, ""},
    {"interview", CitePattern::interview, "interview"},
    {"recording", CitePattern::interview, "recording"},
    {"recollection", CitePattern::interview, "recollection"},
    {"conversation", CitePattern::conversation, "conversation"},
    {"message", CitePattern::conversation, "message"},
    {"hearsay", CitePattern::conversation, ""},
    {"rumour", CitePattern::conversation, ""},
    {"graphic", CitePattern::artwork, ""},
    {"artwork", CitePattern::artwork, ""},
    {"piece", CitePattern::piece, ""},
};

const Kind* find_kind(std::string_view type) {
    const auto* found =
        std::find_if(std::begin(kKinds), std::end(kKinds), [type](const Kind& kind) { return kind.type == type; });
    return found == std::end(kKinds) ? nullptr : found;
}

bool is_kept_in_an_archive(const Source& source) {
    return !source.archive.empty() || !source.collection.empty() || !source.box.empty();
}

// What is printed is cited by how it was printed; where that is not known, by where the copy is kept.
bool printed_facts_are_missing(CitePattern pattern, const Source& source) {
    if (pattern == CitePattern::book)
        return csl_field(source, "publisher").empty() && csl_field(source, "publisher-place").empty();
    if (pattern == CitePattern::article || pattern == CitePattern::chapter)
        return csl_field(source, "container-title").empty();
    return false;
}

CitePattern guessed(const Source& source) {
    if (source.key.starts_with("piece:")) return CitePattern::piece;
    if (is_kept_in_an_archive(source)) return CitePattern::paper;
    if (!csl_field(source, "container-title").empty()) return CitePattern::article;
    if (!csl_field(source, "publisher").empty()) return CitePattern::book;
    return source.url.empty() ? CitePattern::paper : CitePattern::web_page;
}

}  // namespace

std::string_view csl_field(const Source& source, std::string_view name) {
    for (const auto& [field, value] : source.more) {
        if (field == name) return value;
    }
    return {};
}

std::string_view cite_type(const Source& source) {
    return source.type.empty() ? csl_field(source, "type") : source.type;
}

CitePattern cite_pattern(const Source& source) {
    const Kind* kind = find_kind(source.type);
    if (kind == nullptr) kind = find_kind(csl_field(source, "type"));
    if (kind == nullptr) return guessed(source);
    if (printed_facts_are_missing(kind->pattern, source) && is_kept_in_an_archive(source)) return CitePattern::paper;
    return kind->pattern;
}

std::string_view kind_in_note(std::string_view type) {
    const Kind* kind = find_kind(type);
    return kind == nullptr ? std::string_view{} : kind->word;
}

}  // namespace saggar
