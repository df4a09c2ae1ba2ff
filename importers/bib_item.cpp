#include "importers/bib_item.h"

#include <fmt/format.h>

#include <algorithm>

#include "importers/csl.h"
#include "importers/csl_fields.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/json_tree.h"
#include "kg/model/json_write.h"

namespace saggar {
namespace {

struct KindType {
    std::string_view kind;
    std::string_view type;
};

constexpr KindType kind_types[] = {{"advertisement", "article-magazine"},
                                   {"article", "article-journal"},
                                   {"book", "book"},
                                   {"catalogue", "book"},
                                   {"contract", "manuscript"},
                                   {"conversation", "personal_communication"},
                                   {"drawing", "graphic"},
                                   {"guide", "book"},
                                   {"interview", "interview"},
                                   {"journal", "manuscript"},
                                   {"ledger", "manuscript"},
                                   {"letter", "personal_communication"},
                                   {"memo", "manuscript"},
                                   {"minutes", "manuscript"},
                                   {"newspaper", "article-newspaper"},
                                   {"note", "manuscript"},
                                   {"order-book", "manuscript"},
                                   {"periodical", "article-magazine"},
                                   {"photograph", "graphic"},
                                   {"price-list", "pamphlet"},
                                   {"sale-catalogue", "book"},
                                   {"thesis", "thesis"},
                                   {"trade-notice", "article-magazine"},
                                   {"web-page", "webpage"}};

// The variables that stand for fields of ours.
struct FieldVariable {
    std::string_view variable;
    std::string Source::*field;
};
constexpr FieldVariable field_variables[] = {{"URL", &Source::url},
                                             {"archive", &Source::archive},
                                             {"archive-place", &Source::place},
                                             {"archive_collection", &Source::collection},
                                             {"archive_location", &Source::box},
                                             {"title", &Source::title}};

std::string chance_text(double chance) {
    std::string out;
    append_json_number(chance, out);
    return out;
}

std::string copies_text(const std::vector<Copy>& copies) {
    std::string out;
    for (const Copy& copy : copies) {
        if (!out.empty()) out += "; ";
        out += copy.of;
        if (copy.chance != 1) out += fmt::format(" (chance {})", chance_text(copy.chance));
        if (copy.fidelity != 1) out += fmt::format(" (fidelity {})", chance_text(copy.fidelity));
    }
    return out;
}

bool is_suffix(std::string_view text) {
    for (const std::string_view known : {"Jr.", "Jr", "Sr.", "Sr", "II", "III", "IV"})
        if (text == known) return true;
    return false;
}

}  // namespace

std::vector<BibName> names_of_author(std::string_view author) {
    std::vector<BibName> names;
    for (const std::string_view one : split_list(author, ";")) {
        BibName name;
        const std::size_t comma = one.find(',');
        const std::size_t second = comma == std::string_view::npos ? comma : one.find(',', comma + 1);
        const std::string_view given = comma == std::string_view::npos ? std::string_view() : trim(one.substr(comma + 1, second - comma - 1));
        const std::string_view last = second == std::string_view::npos ? std::string_view() : trim(one.substr(second + 1));
        if (comma != std::string_view::npos && comma > 0 && !given.empty() && (second == std::string_view::npos || is_suffix(last))) {
            name.family = trim(one.substr(0, comma));
            name.given = given;
            name.suffix = last;
        } else {
            name.literal = one;
        }
        names.push_back(std::move(name));
    }
    return names;
}

std::string author_of_names(const std::vector<BibName>& names) {
    std::string out;
    for (const BibName& name : names) {
        if (!out.empty()) out += "; ";
        out += name.literal.empty() ? name.family : name.literal;
        if (!name.given.empty()) out += ", " + name.given;
        if (!name.suffix.empty()) out += ", " + name.suffix;
    }
    return out;
}

std::vector<BibName> names_of_json(std::string_view json) {
    std::vector<BibName> names;
    Problems untold(0);
    JsonTree tree;
    const TextLines lines("", json);
    if (json.empty() || json.front() != '[' || !tree.parse(lines, untold)) return names_of_author(json);
    for (const JsonNode* one = tree.first(tree.root()); one; one = tree.next(*one)) {
        BibName name;
        for (const auto& [key, field] : {std::pair("family", &name.family), std::pair("given", &name.given),
                                         std::pair("literal", &name.literal), std::pair("suffix", &name.suffix)}) {
            if (const JsonNode* part = tree.member(*one, key)) *field = std::string(part->text);
        }
        for (const char* const particle_name : {"non-dropping-particle", "dropping-particle"}) {
            if (const JsonNode* particle = tree.member(*one, particle_name); particle && !particle->text.empty())
                name.family = std::string(particle->text) + (particle->text.back() == '\'' ? "" : " ") + name.family;
        }
        if (name != BibName()) names.push_back(std::move(name));
    }
    return names;
}

std::string json_of_names(const std::vector<BibName>& names) {
    std::string out = "[";
    for (const BibName& name : names) {
        if (out.size() > 1) out += ',';
        char before = '{';
        for (const auto& [key, text] : {std::pair("family", &name.family), std::pair("given", &name.given),
                                        std::pair("literal", &name.literal), std::pair("suffix", &name.suffix)}) {
            if (text->empty()) continue;
            out += before;
            append_json_string(key, out);
            out += ':';
            append_json_string(*text, out);
            before = ',';
        }
        out += before == '{' ? "{}" : "}";
    }
    return out + "]";
}

std::string_view csl_type_of_kind(std::string_view type) {
    const auto found = std::find_if(std::begin(kind_types), std::end(kind_types),
                                    [&](const KindType& one) { return one.kind == type; });
    return found == std::end(kind_types) ? "document" : found->type;
}

BibItem bib_item_of(const Source& source) {
    BibItem item;
    item.id = source.key.substr(0, 7) == "source:" ? source.key.substr(7) : source.key;
    item.type = csl_type_of_kind(source.type);
    item.authors = names_of_author(source.author);
    item.issued = source.issued;
    item.is_private = source.is_private;
    for (const FieldVariable& field : field_variables) {
        if (!(source.*field.field).empty()) item.variables.emplace_back(field.variable, source.*field.field);
    }
    for (const auto& [name, text] : source.more) {
        if (name == "id") {
            item.id = text;
        } else if (name == "type") {
            item.type = text;
        } else if (name == "author" && author_of_names(names_of_json(text)) == source.author) {
            item.author_parts = text;
            item.authors = names_of_json(text);
        } else {
            item.variables.emplace_back(name, text);
        }
    }
    std::sort(item.variables.begin(), item.variables.end());
    const auto own = [&](std::string_view column, std::string text) {
        if (!text.empty()) item.own.emplace_back(column, std::move(text));
    };
    own("copied_from", copies_text(source.copied_from));
    if (source.dependence) own("dependence", chance_text(*source.dependence));
    own("family", source.family);
    own("family_kind", source.family_kind);
    own("folder", source.folder);
    own("grade", source.grade);
    if (source.reliability) own("reliability", chance_text(*source.reliability));
    own("rights", source.rights);
    if (source.tolerance_years) own("tolerance", std::to_string(*source.tolerance_years));
    own("type", source.type);
    return item;
}

BibSource::BibSource(std::string_view id, const Vocabulary& vocabulary) {
    source_.key = source_key_of_id(id, vocabulary);
    if (!source_.key.empty() && source_.key != id && source_.key != "source:" + std::string(id))
        source_.more.emplace_back("id", id);
}

void BibSource::set_type(std::string_view csl_type) {
    if (!csl_type.empty()) source_.more.emplace_back("type", csl_type);
}

bool is_season(std::string_view text) {
    return text.size() == 7 && text.substr(0, 4).find_first_not_of("0123456789") == std::string_view::npos && text.substr(4, 2) == "-2" &&
           text[6] >= '1' && text[6] <= '4';
}

void BibSource::set_issued(std::string_view text, const Origin& origin, Problems& problems, bool is_edtf) {
    if (is_edtf && is_season(text)) {
        source_.issued = text;
        return;
    }
    Problems unread(1);
    auto read = date_of_words(text, "", "issued", origin, unread);
    if (read) {
        source_.issued = std::move(*read);
        return;
    }
    problems.add({"bibliography-date", Severity::warning, origin.place_of("issued"),
                  fmt::format("the date \"{}\" is kept as it is, for it cannot be read: {}", text,
                              unread.list().empty() ? std::string() : unread.list().front().message),
                  "write it as EDTF (\"1948~\") or as people do (\"about 1948\")"});
    source_.more.emplace_back("issued", text);
}

void BibSource::set_variable(std::string_view name, std::string_view text) {
    if (text.empty()) return;
    for (const FieldVariable& field : field_variables) {
        if (field.variable != name) continue;
        source_.*field.field = text;
        return;
    }
    source_.more.emplace_back(name, text);
}

bool BibSource::set_own(std::string_view column, std::string_view text, const Origin& origin, Problems& problems) {
    if (column == "private") {
        const auto yes = read_yes(text, "private", origin, problems);
        source_.is_private = yes.value_or(false);
        return yes.has_value();
    }
    return is_source_column(column) && set_source_field(source_, column, text, origin, problems);
}

Source BibSource::finish() {
    // The type that follows from the kind anyway is not worth a field, so reading our own writing gives the source as it was.
    const auto implied = [&](const std::pair<std::string, std::string>& one) {
        return one.first == "type" && one.second == csl_type_of_kind(source_.type);
    };
    source_.more.erase(std::remove_if(source_.more.begin(), source_.more.end(), implied), source_.more.end());
    settle_more(source_);
    return std::move(source_);
}

}  // namespace saggar
