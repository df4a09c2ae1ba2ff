#include "importers/bib_fields.h"

#include <algorithm>
#include <iterator>

#include "importers/csl_fields.h"

namespace saggar {
namespace {

struct NamePair {
    std::string_view outside;
    std::string_view csl;
};

// The first name of a CSL type or variable is the one that is written.
constexpr NamePair bibtex_types[] = {{"article", "article-journal"},
                                     {"book", "book"},
                                     {"incollection", "chapter"},
                                     {"inbook", "chapter"},
                                     {"inproceedings", "paper-conference"},
                                     {"conference", "paper-conference"},
                                     {"booklet", "pamphlet"},
                                     {"phdthesis", "thesis"},
                                     {"mastersthesis", "thesis"},
                                     {"thesis", "thesis"},
                                     {"techreport", "report"},
                                     {"report", "report"},
                                     {"manual", "report"},
                                     {"unpublished", "manuscript"},
                                     {"online", "webpage"},
                                     {"electronic", "webpage"},
                                     {"misc", "document"},
                                     {"proceedings", "book"},
                                     {"collection", "book"},
                                     {"mvbook", "book"},
                                     {"periodical", "periodical"},
                                     {"letter", "personal_communication"},
                                     {"artwork", "graphic"},
                                     {"image", "graphic"},
                                     {"audio", "song"},
                                     {"video", "motion_picture"},
                                     {"dataset", "dataset"},
                                     {"software", "software"},
                                     {"patent", "patent"},
                                     {"magazine", "article-magazine"},
                                     {"newspaper", "article-newspaper"},
                                     {"interview", "interview"}};

constexpr NamePair bibtex_fields[] = {{"title", "title"},
                                      {"publisher", "publisher"},
                                      {"institution", "publisher"},
                                      {"school", "publisher"},
                                      {"organization", "publisher"},
                                      {"address", "publisher-place"},
                                      {"location", "publisher-place"},
                                      {"volume", "volume"},
                                      {"pages", "page"},
                                      {"edition", "edition"},
                                      {"series", "collection-title"},
                                      {"note", "note"},
                                      {"url", "URL"},
                                      {"doi", "DOI"},
                                      {"isbn", "ISBN"},
                                      {"issn", "ISSN"},
                                      {"abstract", "abstract"},
                                      {"annote", "annote"},
                                      {"keywords", "keyword"},
                                      {"chapter", "chapter-number"},
                                      {"language", "language"},
                                      {"langid", "language"},
                                      {"shorttitle", "title-short"},
                                      {"howpublished", "medium"},
                                      {"type", "genre"},
                                      {"library", "archive"},
                                      {"editor", "editor"},
                                      {"translator", "translator"},
                                      {"urldate", "accessed"},
                                      {"origdate", "original-date"},
                                      {"journal", "container-title"},
                                      {"journaltitle", "container-title"},
                                      {"booktitle", "container-title"},
                                      {"eventtitle", "event"},
                                      {"venue", "event-place"},
                                      {"version", "version"},
                                      {"pagetotal", "number-of-pages"},
                                      {"volumes", "number-of-volumes"}};

constexpr NamePair ris_types[] = {{"JOUR", "article-journal"},
                                  {"BOOK", "book"},
                                  {"CHAP", "chapter"},
                                  {"MGZN", "article-magazine"},
                                  {"NEWS", "article-newspaper"},
                                  {"MANSCPT", "manuscript"},
                                  {"THES", "thesis"},
                                  {"RPRT", "report"},
                                  {"CPAPER", "paper-conference"},
                                  {"CONF", "paper-conference"},
                                  {"WEB", "webpage"},
                                  {"ELEC", "webpage"},
                                  {"BLOG", "post-weblog"},
                                  {"PCOMM", "personal_communication"},
                                  {"PAMP", "pamphlet"},
                                  {"ART", "graphic"},
                                  {"FIGURE", "figure"},
                                  {"MAP", "map"},
                                  {"VIDEO", "motion_picture"},
                                  {"SOUND", "song"},
                                  {"STAND", "standard"},
                                  {"PAT", "patent"},
                                  {"DATA", "dataset"},
                                  {"COMP", "software"},
                                  {"LEGAL", "legislation"},
                                  {"CASE", "legal_case"},
                                  {"BILL", "bill"},
                                  {"HEAR", "hearing"},
                                  {"DICT", "entry-dictionary"},
                                  {"ENCYC", "entry-encyclopedia"},
                                  {"EDBOOK", "book"},
                                  {"EBOOK", "book"},
                                  {"EJOUR", "article-journal"},
                                  {"MUSIC", "musical_score"},
                                  {"SER", "periodical"},
                                  {"UNPB", "manuscript"},
                                  {"CTLG", "book"},
                                  {"ADVS", "broadcast"},
                                  {"GEN", "document"},
                                  {"UNBILL", "bill"},
                                  {"INPR", "article"},
                                  {"SLIDE", "graphic"},
                                  {"MPCT", "motion_picture"},
                                  {"STAT", "legislation"},
                                  {"CLSWK", "classic"},
                                  {"GOVDOC", "report"},
                                  {"ABST", "article-journal"}};

constexpr NamePair ris_tags[] = {{"TI", "title"},
                                 {"T1", "title"},
                                 {"ST", "title-short"},
                                 {"T2", "container-title"},
                                 {"JO", "container-title"},
                                 {"JF", "container-title"},
                                 {"BT", "container-title"},
                                 {"JA", "container-title-short"},
                                 {"J2", "container-title-short"},
                                 {"T3", "collection-title"},
                                 {"PB", "publisher"},
                                 {"CY", "publisher-place"},
                                 {"PP", "publisher-place"},
                                 {"VL", "volume"},
                                 {"IS", "issue"},
                                 {"ET", "edition"},
                                 {"SP", "page"},
                                 {"UR", "URL"},
                                 {"DO", "DOI"},
                                 {"SN", "ISBN"},
                                 {"AB", "abstract"},
                                 {"N2", "abstract"},
                                 {"N1", "note"},
                                 {"KW", "keyword"},
                                 {"LA", "language"},
                                 {"CN", "call-number"},
                                 {"DB", "source"},
                                 {"AV", "archive_location"},
                                 {"DP", "archive"},
                                 {"Y2", "accessed"},
                                 {"M3", "genre"},
                                 {"NV", "number-of-volumes"},
                                 {"SE", "section"},
                                 {"OP", "original-title"},
                                 {"ED", "editor"},
                                 {"A2", "editor"},
                                 {"A4", "translator"},
                                 {"M1", "number"}};

template <std::size_t n>
std::string_view csl_of(const NamePair (&pairs)[n], std::string_view outside) {
    const auto found =
        std::find_if(std::begin(pairs), std::end(pairs), [&](const NamePair& pair) { return pair.outside == outside; });
    return found == std::end(pairs) ? std::string_view() : found->csl;
}

template <std::size_t n>
std::string_view outside_of(const NamePair (&pairs)[n], std::string_view csl) {
    const auto found =
        std::find_if(std::begin(pairs), std::end(pairs), [&](const NamePair& pair) { return pair.csl == csl; });
    return found == std::end(pairs) ? std::string_view() : found->outside;
}

bool is_article(std::string_view csl_type) { return csl_type.substr(0, 7) == "article"; }

}  // namespace

bool is_verbatim_bibtex(std::string_view field) {
    return field == "url" || field == "doi" || field == "file" || field == "eprint" || field == "pdf" || field == "urlraw";
}

std::string_view csl_type_of_bibtex(std::string_view entry_type) { return csl_of(bibtex_types, entry_type); }
std::string_view bibtex_type_of_csl(std::string_view csl_type) { return outside_of(bibtex_types, csl_type); }

std::string_view csl_variable_of_bibtex(std::string_view field, std::string_view csl_type) {
    if (field == "number")
        return is_article(csl_type) ? "issue" : csl_type == "report" || csl_type == "patent" || csl_type == "standard" ? "number" : "collection-number";
    return csl_of(bibtex_fields, field);
}

std::string_view bibtex_field_of_csl(std::string_view variable, std::string_view csl_type) {
    for (const std::string_view numbered : {"issue", "number", "collection-number"}) {
        if (variable == numbered) return csl_variable_of_bibtex("number", csl_type) == numbered ? "number" : "";
    }
    if (variable == "container-title") return is_article(csl_type) ? "journal" : "booktitle";
    return outside_of(bibtex_fields, variable);
}

std::string_view csl_type_of_ris(std::string_view ris_type) { return csl_of(ris_types, ris_type); }
std::string_view ris_type_of_csl(std::string_view csl_type) { return outside_of(ris_types, csl_type); }

std::string_view csl_variable_of_ris(std::string_view tag, std::string_view csl_type) {
    if (tag == "SN") return is_article(csl_type) || csl_type == "periodical" ? "ISSN" : "ISBN";
    return csl_of(ris_tags, tag);
}

std::string_view ris_tag_of_csl(std::string_view variable, std::string_view csl_type) {
    if (variable == "ISSN" || variable == "ISBN") return csl_variable_of_ris("SN", csl_type) == variable ? "SN" : "";
    return outside_of(ris_tags, variable);
}

namespace {

bool is_plain_sign(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' || c == '_'; }

}  // namespace

bool bibtex_name_holds(std::string_view variable) {
    const bool plain = !variable.empty() && std::all_of(variable.begin(), variable.end(), is_plain_sign);
    return plain ? variable.substr(0, 4) != "csl-" : csl_type(variable) != CslType::unknown;
}

std::string bibtex_name_of_any(std::string_view variable) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string out;
    for (const char c : variable) {
        const auto byte = static_cast<unsigned char>(c);
        if (is_plain_sign(c))
            out += c;
        else
            out += {'*', digits[byte >> 4], digits[byte & 15]};
    }
    return out;
}

std::string name_of_bibtex_name(std::string_view name) {
    const auto digit = [](char c) { return c >= '0' && c <= '9' ? c - '0' : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1; };
    std::string out;
    for (std::size_t i = 0; i < name.size(); ++i) {
        const bool sign = name[i] == '*' && i + 2 < name.size() && digit(name[i + 1]) >= 0 && digit(name[i + 2]) >= 0;
        if (sign) {
            out += static_cast<char>(digit(name[i + 1]) * 16 + digit(name[i + 2]));
            i += 2;
        } else {
            out += name[i];
        }
    }
    const std::string_view known = csl_variable_of_folded(out);
    return known.empty() ? out : std::string(known);
}

}  // namespace saggar
