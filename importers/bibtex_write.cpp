#include "importers/bibtex_write.h"

#include <fmt/format.h>

#include "importers/bib_fields.h"
#include "importers/bib_item.h"
#include "importers/csl.h"
#include "importers/tex_text.h"

namespace saggar {
namespace {

// A key BibTeX takes: no blanks, braces, commas, quotes. Colons are fine.
bool is_bibtex_key(std::string_view id) {
    return !id.empty() && id.find_first_of(" \t\n{}(),\"#%'=~\\@") == std::string_view::npos;
}

std::string name_of_tex(const BibName& name) {
    const auto part = [](const std::string& text) {
        const std::string escaped = tex_escaped(text);
        return text.find(" and ") != std::string::npos ? "{" + escaped + "}" : escaped;
    };
    if (!name.literal.empty()) return "{" + tex_escaped(name.literal) + "}";
    return part(name.family) + (name.given.empty() ? "" : ", " + part(name.given));
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
    const std::string_view type = known_type.empty() ? "misc" : known_type;
    // Fields that depend on the type are written as the reader will see it.
    const std::string_view seen_type = csl_type_of_bibtex(type);
    out_ << '@' << type << '{' << (is_bibtex_key(item.id) ? item.id : source.key);
    const auto field = [&](std::string_view name, std::string_view tex) {
        out_ << ",\n  " << name << " = {" << tex << '}';
    };
    if (!item.authors.empty()) field("author", names_of_tex(item.authors));
    if (!item.issued.empty()) {
        if (item.issued.size() == 4 && item.issued.find_first_not_of("0123456789") == std::string::npos)
            field("year", item.issued);
        field("date", item.issued);
    }
    if (item.type != seen_type) field("csltype", tex_escaped(item.type));
    for (const auto& [variable, text] : item.variables) {
        const std::string_view name = bibtex_field_of_csl(variable, seen_type);
        const bool names = variable == "editor" || variable == "translator";
        if (names && json_of_names(names_of_json(text)) == text) {
            field(name, names_of_tex(names_of_json(text)));
        } else if (name.empty() || names) {
            field(names ? "csl-" + variable : variable, tex_escaped(text));
        } else {
            field(name, tex_escaped(text));
        }
    }
    for (const auto& [column, text] : item.own) field(column == "type" ? "kind" : column, tex_escaped(text));
    if (item.is_private) field("private", "yes");
    out_ << "\n}\n\n";
}

}  // namespace saggar
