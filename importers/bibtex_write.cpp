#include "importers/bibtex_write.h"

#include <fmt/format.h>

#include "importers/bib_fields.h"
#include "importers/bib_item.h"
#include "importers/csl.h"
#include "importers/tex_text.h"
#include "importers/thing_rows.h"
#include "kg/model/key.h"

namespace saggar {
namespace {

// A key BibTeX takes: no blanks, braces, commas, quotes. Colons are fine.
bool is_bibtex_key(std::string_view id) {
    return !id.empty() && id.find_first_of(" \t\n{}(),\"#%'=~\\@") == std::string_view::npos;
}

// What may stand behind "@" of an entry.
bool is_bibtex_word(std::string_view text) {
    return !text.empty() && text.find_first_not_of("abcdefghijklmnopqrstuvwxyz") == std::string_view::npos && text != "comment" &&
           text != "string" && text != "preamble";
}

// Names of fields that mean something of their own to the reader.
bool is_taken(std::string_view name) {
    for (const std::string_view taken : {"author", "crossref", "csltype", "date", "kind", "month", "private", "year"})
        if (name == taken) return true;
    return is_source_column(name);
}

std::string name_of_tex(const BibName& name) {
    const auto part = [](const std::string& text) {
        const std::string escaped = tex_escaped(text);
        return text.find(" and ") != std::string::npos ? "{" + escaped + "}" : escaped;
    };
    if (!name.literal.empty()) return "{" + tex_escaped(name.literal) + "}";
    // "von Last, Jr, First", as BibTeX wants it.
    return part(name.family) + (name.suffix.empty() ? "" : ", " + part(name.suffix)) +
           (name.given.empty() ? "" : ", " + part(name.given));
}

std::string names_of_tex(const std::vector<BibName>& names) {
    std::string out;
    for (const BibName& name : names) out += (out.empty() ? "" : " and ") + name_of_tex(name);
    return out;
}

}  // namespace

void BibtexWriter::put(const Source& source) {
    const BibItem item = bib_item_of(source);
    const std::string_view known_type = bibtex_type_of_csl(item.type);
    std::string_view type = known_type.empty() ? "misc" : known_type;
    for (const auto& [variable, text] : item.variables) {
        const std::string_view meant = csl_type_of_bibtex(text);
        if (variable == bibtex_type_variable && is_bibtex_word(text) && (meant.empty() ? "document" : meant) == item.type) type = text;
    }
    // Fields that depend on the type are written as the reader will see it.
    const std::string_view meant_type = csl_type_of_bibtex(type);
    const std::string_view seen_type = meant_type.empty() ? "document" : meant_type;
    out_ << '@' << type << '{' << (is_bibtex_key(item.id) ? item.id : source.key);
    const auto field = [&](std::string_view name, std::string_view tex) {
        out_ << ",\n  " << name << " = {" << tex << '}';
    };
    if (!item.authors.empty()) field("author", names_of_tex(item.authors));
    if (!item.author_parts.empty()) field("csl-author", tex_escaped(item.author_parts));
    if (!item.issued.empty()) {
        if (item.issued.size() == 4 && item.issued.find_first_not_of("0123456789") == std::string::npos)
            field("year", item.issued);
        field("date", item.issued);
    }
    if (item.type != seen_type) field("csltype", tex_escaped(item.type));
    for (const auto& [variable, text] : item.variables) {
        if (variable == bibtex_type_variable && text == type) continue;
        const std::string_view name = bibtex_field_of_csl(variable, seen_type);
        const bool names = variable == "editor" || variable == "translator";
        if (names && json_of_names(names_of_json(text)) == text) {
            field(name, names_of_tex(names_of_json(text)));
        } else if (name.empty() || names) {
            // Not under a name that the reader would take for something else: "issued" here is a date that could not be read.
            const bool plain = bibtex_name_holds(variable);
            if (!plain) {
                field("csl-" + bibtex_name_of_any(variable), tex_escaped(text));
                continue;
            }
            field(names || is_taken(variable) || !csl_variable_of_bibtex(fold(variable), seen_type).empty() ? "csl-" + variable : variable, tex_escaped(text));
        } else if (is_verbatim_bibtex(name) && text.find_first_of("{}\\\n") == std::string::npos) {
            field(name, text);
        } else {
            field(name, tex_escaped(text));
        }
    }
    for (const auto& [column, text] : item.own) field(column == "type" ? "kind" : column, tex_escaped(text));
    if (item.is_private) field("private", "yes");
    out_ << "\n}\n\n";
}

}  // namespace saggar
