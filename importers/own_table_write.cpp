#include "importers/own_table_write.h"

#include <fmt/format.h>

#include <charconv>
#include <nlohmann/json.hpp>
#include <vector>

#include "importers/claim_rows.h"
#include "importers/thing_rows.h"
#include "kg/time/written.h"

namespace saggar {
namespace {

using Cells = std::vector<std::string>;

std::string csv_cell(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char sign : text) {
        if (sign == '"') out += '"';
        out += sign;
    }
    return out + '"';
}

template <class Texts>
void write_row(std::ostream& out, const Texts& cells) {
    std::string line;
    for (const auto& cell : cells) {
        if (&cell != &*std::begin(cells)) line += ',';
        line += csv_cell(std::string(cell));
    }
    out << line << "\r\n";
}

// The shortest digits that read back as the same number, without an exponent.
std::string digits_of(double number) {
    char buffer[400];
    const auto end = std::to_chars(buffer, buffer + sizeof buffer, number, std::chars_format::fixed).ptr;
    return std::string(buffer, end);
}

std::string digits_of(const std::optional<double>& number) { return number ? digits_of(*number) : std::string(); }

std::string yes_if(bool is_private) { return is_private ? "yes" : ""; }

std::string names_of(const std::vector<Name>& names) {
    std::string out;
    for (const Name& name : names) {
        if (!out.empty()) out += "; ";
        out += name.text;
        if (!name.language.empty()) out += "@" + name.language;
    }
    return out;
}

std::string copies_of(const Source& source) {
    std::string out;
    for (const Copy& copy : source.copied_from) {
        if (!out.empty()) out += "; ";
        out += copy.of;
        if (copy.chance != 1) out += fmt::format(" (chance {})", digits_of(copy.chance));
        if (copy.fidelity != 1) out += fmt::format(" (fidelity {})", digits_of(copy.fidelity));
    }
    return out;
}

// A date that people's way of writing would read otherwise (1931-34, a quarter in EDTF) is put into brackets: one of one.
std::string date_cell(const std::string& edtf) {
    if (edtf.empty()) return {};
    const auto read = time::read_edtf_or_written(edtf);
    const bool same = read && read->size() == 1 && read->front().edtf == edtf;
    return same ? edtf : "[" + edtf + "]";
}

Cells claim_cells(const Claim& claim) {
    Cells cells(ClaimRows::column_count);
    cells[ClaimRows::subject] = claim.subject;
    cells[ClaimRows::relation] = claim.relation;
    cells[ClaimRows::object] =
        claim.object.type == Value::Type::date ? date_cell(claim.object.text) : claim.object.text;
    if (!claim.object.unit.empty()) cells[ClaimRows::object] += " " + claim.object.unit;
    cells[ClaimRows::when] = date_cell(claim.when);
    cells[ClaimRows::scope] = claim.scope;
    cells[ClaimRows::private_] = yes_if(claim.is_private);
    return cells;
}

template <class R>
void set_recording(Cells& cells, const R& record) {
    cells[ClaimRows::recorded_by] = record.recorded_by;
    cells[ClaimRows::recorded_on] = record.recorded_on;
    if (record.is_private) cells[ClaimRows::private_] = "yes";
}

std::span<const std::string_view> columns_of(OwnTable table) {
    switch (table) {
        case OwnTable::entities:
            return EntityRows::column_names();
        case OwnTable::sources:
            return SourceRows::column_names();
        case OwnTable::claims:
            break;
    }
    return ClaimRows::column_names();
}

std::string name_of(OwnTable table) {
    switch (table) {
        case OwnTable::entities:
            return "entities";
        case OwnTable::sources:
            return "sources";
        case OwnTable::claims:
            break;
    }
    return "claims";
}

}  // namespace

EntityTableWriter::EntityTableWriter(std::ostream& out) : out_(out) { write_row(out_, EntityRows::column_names()); }

void EntityTableWriter::put(const Entity& entity) {
    Cells cells(EntityRows::column_count);
    cells[EntityRows::key] = entity.key;
    cells[EntityRows::label] = entity.label.text;
    cells[EntityRows::also] = names_of(entity.also);
    cells[EntityRows::remark] = entity.remark;
    cells[EntityRows::image] = entity.image;
    cells[EntityRows::private_] = yes_if(entity.is_private);
    write_row(out_, cells);
}

SourceTableWriter::SourceTableWriter(std::ostream& out) : out_(out) { write_row(out_, SourceRows::column_names()); }

void SourceTableWriter::put(const Source& source) {
    Cells cells(SourceRows::column_count);
    cells[SourceRows::key] = source.key;
    cells[SourceRows::title] = source.title;
    cells[SourceRows::type] = source.type;
    cells[SourceRows::grade] = source.grade;
    cells[SourceRows::reliability] = digits_of(source.reliability);
    cells[SourceRows::family] = source.family;
    cells[SourceRows::family_kind] = source.family_kind;
    cells[SourceRows::copied_from] = copies_of(source);
    cells[SourceRows::dependence] = digits_of(source.dependence);
    if (source.tolerance_years) cells[SourceRows::tolerance] = std::to_string(*source.tolerance_years);
    cells[SourceRows::issued] = date_cell(source.issued);
    cells[SourceRows::author] = source.author;
    cells[SourceRows::archive] = source.archive;
    cells[SourceRows::place] = source.place;
    cells[SourceRows::collection] = source.collection;
    cells[SourceRows::box] = source.box;
    cells[SourceRows::folder] = source.folder;
    cells[SourceRows::rights] = source.rights;
    cells[SourceRows::url] = source.url;
    cells[SourceRows::private_] = yes_if(source.is_private);
    write_row(out_, cells);
}

ClaimTableWriter::ClaimTableWriter(std::ostream& out) : out_(out) { write_row(out_, ClaimRows::column_names()); }

void ClaimTableWriter::put(const Claim& claim, const Evidence& evidence) {
    Cells cells = claim_cells(claim);
    cells[ClaimRows::stance] = evidence.mention ? "silent" : evidence.stance == Stance::in_favour ? "for" : "against";
    cells[ClaimRows::source] = evidence.source;
    cells[ClaimRows::at] = evidence.at;
    cells[ClaimRows::quote] = evidence.quote;
    cells[ClaimRows::certainty] = evidence.certainty;
    cells[ClaimRows::reading] = evidence.reading;
    cells[ClaimRows::mention] = digits_of(evidence.mention);
    if (!evidence.corrects.empty()) cells[ClaimRows::corrects] = evidence.corrects.full();
    cells[ClaimRows::remark] = evidence.remark;
    set_recording(cells, evidence);
    write_row(out_, cells);
}

void ClaimTableWriter::put(const Listing& listing) {
    Cells cells(ClaimRows::column_count);
    cells[ClaimRows::subject] = listing.subject;
    cells[ClaimRows::relation] = listing.relation;
    cells[ClaimRows::object] = "*";
    cells[ClaimRows::stance] = "lists-all";
    cells[ClaimRows::when] = date_cell(listing.when);
    cells[ClaimRows::scope] = listing.scope;
    cells[ClaimRows::source] = listing.source;
    cells[ClaimRows::at] = listing.at;
    cells[ClaimRows::quote] = listing.quote;
    cells[ClaimRows::completeness] = digits_of(listing.completeness);
    cells[ClaimRows::remark] = listing.remark;
    set_recording(cells, listing);
    write_row(out_, cells);
}

void ClaimTableWriter::put(const Claim& claim, const Argument& argument, const std::vector<std::string>& premises) {
    Cells cells = claim_cells(claim);
    cells[ClaimRows::stance] = argument.stance == Stance::in_favour ? "argued" : "argued-against";
    cells[ClaimRows::premises] = fmt::format("{}", fmt::join(premises, " + "));
    cells[ClaimRows::strength] = digits_of(argument.strength);
    cells[ClaimRows::reason] = argument.reason;
    set_recording(cells, argument);
    write_row(out_, cells);
}

std::optional<std::string> claim_in_words(const Claim& claim) {
    if (claim.object.type != Value::Type::entity || !claim.scope.empty() || !claim.when.empty() || claim.is_private)
        return std::nullopt;
    return fmt::format("{} {} {}", claim.subject, claim.relation, claim.object.text);
}

std::string own_table_file(OwnTable table) { return name_of(table) + ".csv"; }

std::string own_table_metadata(OwnTable table, const std::string& language) {
    using nlohmann::ordered_json;
    ordered_json columns = ordered_json::array();
    for (const std::string_view name : columns_of(table)) {
        ordered_json column = {{"titles", name}, {"name", name}};
        const bool key = name == "key" || (table == OwnTable::claims && (name == "subject" || name == "relation"));
        if (key) column["required"] = true;
        if (name == "also" || name == "copied_from") column["separator"] = ";";
        if (name == "premises") column["separator"] = " + ";
        if (name == "reliability" || name == "dependence" || name == "mention" || name == "completeness" ||
            name == "strength")
            column["datatype"] = {{"base", "decimal"}, {"minimum", 0}, {"maximum", 1}};
        if (name == "tolerance") column["datatype"] = {{"base", "integer"}, {"minimum", 0}};
        if (name == "url") column["datatype"] = "anyURI";
        columns.push_back(column);
    }
    ordered_json schema = {{"columns", columns}};
    if (table != OwnTable::claims) schema["primaryKey"] = "key";
    const ordered_json document = {
        {"@context", ordered_json::array({"http://www.w3.org/ns/csvw", {{"@language", language}}})},
        {"url", own_table_file(table)},
        {"dc:title", name_of(table)},
        {"tableSchema", schema}};
    return document.dump(2) + "\n";
}

}  // namespace saggar
