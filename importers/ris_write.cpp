#include "importers/ris_write.h"

#include <fmt/format.h>

#include "importers/bib_fields.h"
#include "importers/bib_item.h"
#include "importers/words.h"

namespace saggar {
namespace {

// A value of RIS is one line.
std::string one_line(std::string_view text) {
    std::string out;
    for (const char c : text) out += c == '\n' || c == '\r' ? ' ' : c;
    return out;
}

std::string name_of_ris(const BibName& name) {
    if (!name.literal.empty()) return name.literal.find(',') == std::string::npos ? name.literal : std::string();
    if (!name.suffix.empty()) return name.family + ", " + name.given + ", " + name.suffix;
    return name.given.empty() ? name.family + "," : name.family + ", " + name.given;
}

// Whether names can be written one a line and read back.
bool names_fit(const std::vector<BibName>& names) {
    for (const BibName& name : names) {
        if (name_of_ris(name).empty()) return false;
    }
    return !names.empty();
}

}  // namespace

void RisWriter::put(const Source& source) {
    const BibItem item = bib_item_of(source);
    const std::string_view known_type = ris_type_of_csl(item.type);
    std::string_view type = known_type.empty() ? "GEN" : known_type;
    for (const auto& [variable, text] : item.variables) {
        const std::string_view meant = csl_type_of_ris(text);
        const bool word = !text.empty() && text.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string::npos;
        if (variable == ris_type_variable && word && (meant.empty() ? "document" : meant) == item.type) type = text;
    }
    const std::string_view meant_type = csl_type_of_ris(type);
    const std::string_view seen_type = meant_type.empty() ? "document" : meant_type;
    const auto line = [&](std::string_view tag, std::string_view text) {
        out_ << tag << "  - " << one_line(text) << "\r\n";
    };
    const auto own = [&](std::string_view name, std::string_view text) {
        line("N1", fmt::format("{}: {}", name, text));
    };
    line("TY", type);
    line("ID", item.id);
    if (names_fit(item.authors)) {
        for (const BibName& name : item.authors) line("AU", name_of_ris(name));
    } else if (!source.author.empty()) {
        own("author", source.author);
    }
    if (!item.author_parts.empty()) own("csl:author", item.author_parts);
    if (!item.issued.empty()) {
        const bool year = item.issued.size() == 4 && item.issued.find_first_not_of("0123456789") == std::string::npos;
        line(year ? "PY" : "DA", year ? item.issued : "///" + item.issued);
    }
    if (item.type != seen_type) own("csl-type", item.type);
    for (const auto& [variable, text] : item.variables) {
        if (variable == ris_type_variable && text == type) continue;
        const std::string_view tag = ris_tag_of_csl(variable, seen_type);
        const bool names = variable == "editor" || variable == "translator";
        const std::size_t dash = text.find('-');
        if (names && json_of_names(names_of_json(text)) == text && names_fit(names_of_json(text))) {
            for (const BibName& name : names_of_json(text)) line(tag, name_of_ris(name));
        } else if (tag.empty() || names || trim(text) != text || variable == "note" ||
                   (variable == "accessed" && text.find('/') != std::string::npos)) {  // which RIS reads as year/month/day
            own("csl:" + variable, text);
        } else if (variable == "page" && dash != std::string::npos && dash > 0 && dash + 1 < text.size()) {
            line("SP", text.substr(0, dash));
            line("EP", text.substr(dash + 1));
        } else {
            line(tag, text);
        }
    }
    for (const auto& [column, text] : item.own) own(column, text);
    if (item.is_private) own("private", "yes");
    out_ << "ER  - \r\n\r\n";
}

}  // namespace saggar
