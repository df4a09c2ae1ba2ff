// The dossier as Markdown for pandoc, with CSL-JSON beside it.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "queries/cite_csl.h"
#include "queries/cite_kind.h"
#include "viz/dossier/dossier.h"
#include "viz/text/clean.h"

namespace saggar::viz {

namespace {

std::string escaped(std::string_view text) { return markdown_escaped(clean_line(text)); }

// A YAML scalar in double quotes.
std::string yaml(std::string_view text) { return nlohmann::json(clean_line(text)).dump(); }

std::string marks(const std::vector<int>& numbers, std::string_view words) {
    if (numbers.empty()) return {};
    std::string out = fmt::format(" {}", words);
    for (const int number : numbers) out += fmt::format("[^{}]", number);
    return out;
}

std::string sentence(const DossierSentence& sentence, bool in_group = false) {
    std::string out = in_group ? "    - " + escaped(sentence.item) : "- " + escaped(sentence.text);
    if (!sentence.weight.empty()) out += fmt::format(" ({})", escaped(sentence.weight));
    out += marks(sentence.cited_for, "for") + marks(sentence.cited_against, "against");
    if (sentence.cited_for.empty() && sentence.cited_against.empty()) out += " no evidence recorded";
    if (sentence.disputed) out += " **disputed**";
    if (!sentence.ruling.empty()) out += " **Ruling:** " + escaped(sentence.ruling);
    return out + "\n";
}

void head(const Dossier& dossier, std::string& out) {
    out += fmt::format("---\ntitle: {}\nsubtitle: {}\nlang: en\nbibliography: sources.json\nnocite: |\n ",
                       yaml(dossier.title), yaml(dossier.kind));
    for (std::size_t i = 0; i < dossier.sources.size(); ++i)
        out += fmt::format("{} @{}", i == 0 ? "" : ",", dossier.sources[i].source.key);
    out += "\n---\n\n";
    if (!dossier.also.empty()) out += "Also: " + escaped(dossier.also) + "\n\n";
    if (!dossier.remark.empty()) out += escaped(dossier.remark) + "\n\n";
    for (const auto& caution : dossier.cautions) out += "> **Caution.** " + escaped(caution) + "\n\n";
}

const char* csl_type_of(const Source& source) {
    switch (cite_pattern(source)) {
        case CitePattern::paper:
            return source.type == "photograph" ? "graphic" : "manuscript";
        case CitePattern::letter:
            return "personal_communication";
        case CitePattern::book:
            return source.type == "report" ? "report" : "book";
        case CitePattern::article:
            return source.type == "newspaper" ? "article-newspaper"
                   : source.type == "article" ? "article-journal"
                                              : "article-magazine";
        case CitePattern::chapter:
            return "chapter";
        case CitePattern::thesis:
            return "thesis";
        case CitePattern::web_page:
            return "webpage";
        case CitePattern::interview:
            return "interview";
        case CitePattern::conversation:
            return "personal_communication";
        case CitePattern::artwork:
        case CitePattern::piece:
            return "graphic";
    }
    return "document";
}

nlohmann::json names_of(const std::vector<CitedName>& names) {
    auto list = nlohmann::json::array();
    for (const auto& name : names) {
        if (name.given.empty()) {
            list.push_back({{"literal", name.family}});
        } else {
            list.push_back({{"family", name.family}, {"given", name.given}});
        }
    }
    return list;
}

// A day, month or year as date-parts; anything else as the words a reader gets.
nlohmann::json date_of(const std::string& edtf) {
    const auto words = clean_line(edtf);
    nlohmann::json parts = nlohmann::json::array();
    std::size_t at = 0;
    for (const std::size_t digits : {4u, 2u, 2u}) {
        if (words.size() < at + digits || words.substr(at, digits).find_first_not_of("0123456789") != std::string::npos)
            break;
        parts.push_back(std::stoi(words.substr(at, digits)));
        at += digits;
        if (at == words.size()) return {{"date-parts", {parts}}};
        if (words[at] != '-') break;
        ++at;
    }
    return {{"literal", date_in_words(words)}};
}

bool is_names_field(std::string_view name) {
    return name == "editor" || name == "translator" || name == "interviewer" || name == "recipient" ||
           name == "container-author";
}

bool is_text_field(std::string_view name) {
    static constexpr std::string_view kFields[] = {
        "container-title", "collection-title", "publisher",  "publisher-place", "volume", "issue", "page", "edition",
        "genre",           "medium",           "dimensions", "call-number",     "DOI",    "ISBN",  "ISSN", "note",
        "abstract",        "section"};
    return std::find(std::begin(kFields), std::end(kFields), name) != std::end(kFields);
}

void set_text(nlohmann::json& item, const char* field, const std::string& text) {
    if (!text.empty()) item[field] = clean_line(text);
}

nlohmann::json csl_item(const Source& source) {
    nlohmann::json item = {{"id", source.key}, {"type", csl_type_of(source)}};
    set_text(item, "title", source.title);
    if (!source.author.empty()) item["author"] = names_of(read_names(clean_line(source.author)));
    if (!source.issued.empty()) item["issued"] = date_of(source.issued);
    set_text(item, "archive", source.archive);
    set_text(item, "archive-place", source.place);
    set_text(item, "archive_collection", source.collection);
    std::string location;
    if (!source.box.empty()) location = "box " + source.box;
    if (!source.folder.empty()) location += (location.empty() ? "folder " : ", folder ") + source.folder;
    set_text(item, "archive_location", location);
    set_text(item, "URL", source.url);
    for (const auto& [name, value] : source.more) {
        if (is_names_field(name)) item[name] = names_of(csl_names(clean_line(value)));
        if (is_text_field(name)) item[name] = clean_line(value);
        if (name == "accessed") item[name] = date_of(csl_date(value));
    }
    return item;
}

}  // namespace

std::string dossier_text(const Dossier& dossier) {
    std::string out;
    head(dossier, out);
    for (const auto& section : dossier.sections) {
        out += "# " + escaped(section.heading) + "\n\n";
        for (const auto& group : groups_of(section)) {
            if (!group.lead.empty()) out += "- " + escaped(group.lead) + ":\n";
            for (const auto* one : group.sentences) out += sentence(*one, !group.lead.empty());
        }
        out += "\n";
    }
    if (!dossier.disputes.empty()) out += "# Disputes\n\n";
    for (const auto& dispute : dossier.disputes) {
        out += "## " + escaped(dispute.title) + "\n\n";
        for (const auto& view : dispute.views) out += sentence(view);
        out += "\n";
    }
    if (!dossier.pictures.empty()) out += "# Pictures\n\n";
    for (const auto& picture : dossier.pictures)
        out += fmt::format("![{}](pictures/{}.png)\n\n", escaped(picture.title), picture.name);
    if (!dossier.unknown.empty()) {
        out +=
            "# What is not known\n\nNothing is recorded on the following. That is not evidence that there is "
            "nothing.\n\n";
        for (const auto& one : dossier.unknown) out += "- " + escaped(one) + "\n";
        out += "\n";
    }
    out += "# About this dossier\n\n";
    if (!dossier.left_out.empty()) out += "Left out: " + escaped(dossier.left_out) + "\n\n";
    for (const auto& line : dossier.colophon) out += escaped(line) + "\n\n";
    for (std::size_t i = 0; i < dossier.notes.size(); ++i) {
        out += fmt::format("[^{}]: {}\n\n", i + 1, to_markdown(dossier.notes[i]));
    }
    if (!dossier.sources.empty()) out += "# Sources\n\n::: {#refs}\n:::\n";
    return out;
}

std::string dossier_sources(const Dossier& dossier) {
    auto items = nlohmann::json::array();
    for (const auto& source : dossier.sources) items.push_back(csl_item(source.source));
    return items.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace saggar::viz
