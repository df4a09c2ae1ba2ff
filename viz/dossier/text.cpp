// The dossier as Markdown for pandoc, and the sources as records a bibliography program can use.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "queries/cite_name.h"
#include "queries/cite_parts.h"
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
        out += fmt::format("{} @{}", i == 0 ? "" : ",", citation_key(dossier.sources[i].source.key));
    out += "\n---\n\n";
    if (!dossier.also.empty()) out += "Also: " + escaped(dossier.also) + "\n\n";
    if (!dossier.remark.empty()) out += escaped(dossier.remark) + "\n\n";
    for (const auto& caution : dossier.cautions) out += "> **Caution.** " + escaped(caution) + "\n\n";
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

std::string citation_key(std::string_view source_key) {
    return std::string(source_key.substr(source_key.starts_with("source:") ? 7 : 0));
}

std::vector<Source> dossier_records(const Dossier& dossier) {
    std::vector<Source> records;
    for (const auto& listed : dossier.sources) {
        // What is about weighing (grade, family, copies) stays behind.
        Source record;
        record.key = listed.source.key;
        record.type = listed.source.type;
        record.title = clean_line(listed.source.title);
        record.issued = clean_line(listed.source.issued);
        record.archive = clean_line(listed.source.archive);
        record.collection = clean_line(listed.source.collection);
        record.place = clean_line(listed.source.place);
        record.url = clean_line(listed.source.url);
        for (const auto& [name, value] : listed.source.more) {
            if (name != "id") record.more.emplace_back(name, clean_line(value));
        }
        std::string author;
        for (const auto& name : read_names(clean_line(listed.source.author)))
            author +=
                (author.empty() ? "" : "; ") + (name.given.empty() ? name.family : name.family + ", " + name.given);
        record.author = std::move(author);
        if (!listed.source.box.empty()) record.box = citing::numbered("box", clean_line(listed.source.box));
        if (!listed.source.folder.empty())
            record.box +=
                (record.box.empty() ? "" : ", ") + citing::numbered("folder", clean_line(listed.source.folder));
        records.push_back(std::move(record));
    }
    return records;
}

}  // namespace saggar::viz
