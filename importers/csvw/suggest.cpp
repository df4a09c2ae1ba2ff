#include "importers/csvw/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <set>
#include <vector>

#include "importers/csvw/datatype.h"
#include "importers/csvw/headings.h"
#include "importers/csvw/role_words.h"
#include "importers/table.h"
#include "importers/words.h"
#include "kg/model/json_write.h"
#include "kg/model/key.h"
#include "kg/time/written.h"
#include "kg/weigh/profile.h"

namespace saggar::csvw {
namespace {

constexpr std::size_t rows_looked_at = 2000;
constexpr std::size_t longest_name = 60;  // bytes on average; longer cells are prose
constexpr std::size_t most_roles = 60;    // different ones; more are no roles
constexpr std::size_t most_title_rows = 20;

// The sign that parts the cells of the first line: the most frequent outside quotes, a comma where none is.
char delimiter_of(TextInput& input) {
    while (input.window().find('\n') == std::string_view::npos && input.more()) {
    }
    constexpr std::string_view signs = ",;\t|";
    std::array<std::size_t, signs.size()> counts{};
    bool quoted = false;
    for (const char c : input.window().substr(0, input.window().find('\n'))) {
        quoted ^= c == '"';
        if (const std::size_t sign = signs.find(c); !quoted && sign != std::string_view::npos) ++counts[sign];
    }
    return signs[static_cast<std::size_t>(std::max_element(counts.begin(), counts.end()) - counts.begin())];
}

// What the cells of one column have in common.
struct ColumnFacts {
    std::string title;
    std::string name;
    std::size_t filled = 0;
    std::size_t bytes = 0;
    std::size_t lists = 0;
    std::set<std::string> different;
    std::vector<Datatype> fitting;  // types that every filled cell has had so far, the narrowest first

    bool is_prose() const { return filled != 0 && bytes / filled > longest_name; }
};

// All that is known of the table.
struct TableFacts {
    std::string file;
    std::vector<ColumnFacts> columns;
    std::size_t rows = 0;
    bool blank_rows = false;
    std::size_t rows_above = 0;  // titles of the whole sheet, before the header
    const ColumnFacts* subject = nullptr;
    bool one_row_each = true;  // a row for each subject
    std::string kind;
    bool kind_guessed = false;
    const ColumnFacts* role = nullptr;
    const ColumnFacts* party = nullptr;  // whom the roles are of
};

std::string name_of_title(std::string_view title, std::size_t number) {
    std::string name = slugify(title);
    std::replace(name.begin(), name.end(), '-', '_');
    while (!name.empty() && name.front() == '_') name.erase(0, 1);
    return name.empty() ? fmt::format("column_{}", number) : name;
}

std::vector<Datatype> candidate_types() {
    std::vector<Datatype> types;
    for (const char* name : {"gYear", "integer", "decimal", "date", "boolean", "anyURI"}) {
        Datatype type;
        type.base = built_in_type(name);
        types.push_back(std::move(type));
    }
    return types;
}

// Numbers of things would lose a digit as numbers: 007, and 2009.10 under "No.".
bool would_lose_a_digit(std::string_view text, bool is_name) {
    return (text.size() > 1 && text[0] == '0' && text[1] >= '0' && text[1] <= '9') ||
           (is_name && text.find('.') != std::string_view::npos && text.back() == '0');
}

bool fits(std::string_view text, bool is_name, const Datatype& type) {
    std::string why;
    if (type.base->name == "anyURI") return text.substr(0, 7) == "http://" || text.substr(0, 8) == "https://";
    if (type.base->name == "gYear" && text.size() != 4) return false;  // a longer number is a number
    if (would_lose_a_digit(text, is_name)) return false;
    return read_value(text, type, why).has_value();
}

void look_at(ColumnFacts& facts, std::string_view cell) {
    cell = trim(cell);
    if (cell.empty()) return;
    ++facts.filled;
    facts.bytes += cell.size();
    facts.lists += cell.find(';') != std::string_view::npos;
    facts.different.emplace(cell);
    const bool is_name = Headings::is_number_word(facts.title);
    facts.fitting.erase(std::remove_if(facts.fitting.begin(), facts.fitting.end(),
                                       [&](const Datatype& type) { return !fits(cell, is_name, type); }),
                        facts.fitting.end());
}

// The column that names what a row speaks of: the first filled and different in every row; else the first that is filled and
// headed like a number, a key or a kind of thing.
void find_subject(TableFacts& table, const Headings& headings) {
    for (const ColumnFacts& one : table.columns) {
        if (table.rows == 0 || one.filled != table.rows || one.different.size() != table.rows || one.is_prose() || Headings::is_role(one.title)) continue;
        table.subject = &one;
        return;
    }
    table.one_row_each = false;
    for (const ColumnFacts& one : table.columns) {
        if (table.rows == 0 || one.filled != table.rows || one.is_prose()) continue;
        if (!Headings::is_number_word(one.title) && !headings.kind_of(one.title)) continue;
        table.subject = &one;
        return;
    }
}

// The kind that heading or file name speaks of, else a guess: "piece", or the first kind there is.
void find_kind(TableFacts& table, const Headings& headings, const Vocabulary& vocabulary) {
    const std::string stem = std::filesystem::path(table.file).stem().string();
    auto kind = table.subject ? headings.kind_of(table.subject->title) : std::nullopt;
    if (!kind) kind = headings.kind_of(stem);
    table.kind_guessed = !kind;
    table.kind = kind                                                         ? *kind
                 : vocabulary.find_kind("piece") || vocabulary.kinds().empty() ? "piece"
                                                                               : vocabulary.kinds().front().name;
}

// A column of roles ("Designer", "possibly Maker") and the one that names whose roles they are.
void find_roles(TableFacts& table) {
    for (const ColumnFacts& one : table.columns) {
        if (!table.role && Headings::is_role(one.title) && one.fitting.empty() && one.different.size() <= most_roles) table.role = &one;
    }
    if (!table.role) return;
    for (const ColumnFacts& one : table.columns) {
        if (&one == table.role || &one == table.subject || Headings::is_number_word(one.title) || one.is_prose()) continue;
        if (one.filled == 0 || !one.fitting.empty()) continue;
        table.party = &one;
        return;
    }
    table.role = nullptr;
}

std::string role_look_up(const TableFacts& table, const Headings& headings, std::string& kind) {
    std::vector<std::string> hedges;
    for (const Hedge& hedge : Profile::standard().hedges) hedges.push_back(hedge.words);
    std::set<std::string> done;
    std::string entries;
    for (const std::string& text : table.role->different) {
        for (const SplitRole& reading : split_role(text, hedges)) {
            const HeadingMeaning meaning = headings.meaning_of(reading.word, table.kind);
            if (meaning.property.rfind("relation:", 0) != 0 || meaning.to_value) continue;
            if (kind.empty()) kind = meaning.object_kind;
            if (done.insert(reading.word).second)
                entries += fmt::format("{}\n         {{\"saggar:word\": {}, \"saggar:relation\": {}}}", entries.empty() ? "" : ",",
                                       json_string(reading.word), json_string(meaning.property.substr(9)));
            break;
        }
    }
    return entries;
}

std::string describe_party(const ColumnFacts& facts, const TableFacts& table, const Headings& headings, std::string out) {
    std::string kind;
    const std::string entries = role_look_up(table, headings, kind);
    if (kind.empty()) kind = headings.kind_of(facts.title).value_or("person");
    return out + fmt::format(
                     ", \"valueUrl\": \"{0}:{{{1}}}\", \"saggar:label\": \"{{{1}}}\",\n"
                     "       \"saggar:proposed\": \"whose roles they are; the relations by the words, other words are errors until they stand here\",\n"
                     "       \"saggar:role\": \"{{{2}}}\", \"saggar:quote\": \"{{{2}}}: {{{1}}}\", \"saggar:roles\": [{3}]}}",
                     kind, facts.name, table.role->name, entries);
}

// What the dates of a column need besides: relations for labelled ones ("designed 1945, made 1946"), and what is done with
// words that are no date. `remark` tells of those.
std::string describe_dates(const ColumnFacts& facts, const TableFacts& table, const Headings& headings, const HeadingMeaning& meaning,
                           std::string& remark) {
    std::set<std::string> labels;
    std::size_t unread = 0;
    std::string first;
    for (const std::string& text : facts.different) {
        const auto dates = time::read_edtf_or_written(text);
        if (!dates && unread++ == 0) first = text;
        if (!dates) continue;
        for (const time::WrittenDate& date : *dates) labels.insert(date.label);
    }
    std::string out;
    if (unread != 0) {
        out += ", \"saggar:unreadable\": \"warn\"";
        remark = fmt::format("{} of {} different cells are no date that can be read and would be passed over, the first: {}", unread,
                             facts.different.size(), first.substr(0, longest_name));
    }
    labels.erase("");
    if (labels.empty()) return out;
    const std::string relation = meaning.property.substr(9);
    out += fmt::format(", \"saggar:phases\": [\n         {{\"saggar:word\": \"\", \"saggar:relation\": \"{}\"}}", relation);
    for (const std::string& label : labels) {
        const bool own = relation.compare(0, label.size(), label) == 0;
        const std::string phase = own ? relation : headings.dated_by(label, table.kind);
        if (!phase.empty())
            out += fmt::format(",\n         {{\"saggar:word\": \"{}\", \"saggar:relation\": \"{}\"}}", label, phase);
        else
            remark += fmt::format("{}no relation is near the word \"{}\" of some dates", remark.empty() ? "" : "; ", label);
    }
    return out + "]";
}

std::string describe(const ColumnFacts& facts, const TableFacts& table, const Headings& headings) {
    std::string out = fmt::format("      {{\"titles\": {}, \"name\": {}", json_string(facts.title), json_string(facts.name));
    if (&facts == table.party) return describe_party(facts, table, headings, out);
    if (&facts == table.role) return out + "}";
    const bool is_subject = &facts == table.subject;
    HeadingMeaning meaning = is_subject ? HeadingMeaning() : headings.meaning_of(facts.title, table.kind);
    if (facts.is_prose() && !meaning.object_kind.empty()) {
        meaning = {};
        meaning.remark = "its cells are too long to name things";
    }
    const bool is_field = meaning.property.rfind("field:", 0) == 0;
    // A date or a text is read as it is written; what names a thing is words.
    if (!is_subject && !meaning.to_value && !is_field && meaning.object_kind.empty() && facts.filled && !facts.fitting.empty())
        out += fmt::format(", \"datatype\": \"{}\"", facts.fitting.front().base->name);
    if (facts.lists * 3 > facts.filled && facts.filled && !facts.is_prose() && !is_subject && (!is_field || meaning.property == "field:also"))
        out += ", \"separator\": \";\"";
    if (is_subject) {
        out += ", \"required\": true";
        // Words name the thing; a number is no name.
        if (facts.fitting.empty() && !Headings::is_number_word(facts.title)) out += ", \"propertyUrl\": \"field:label\"";
        return out + "}";
    }
    if (!meaning.property.empty()) out += fmt::format(", \"propertyUrl\": \"{}\"", meaning.property);
    if (!meaning.object_kind.empty())
        out += fmt::format(", \"valueUrl\": \"{0}:{{{1}}}\", \"saggar:label\": \"{{{1}}}\"", meaning.object_kind, facts.name);
    if (!meaning.unit.empty() && !meaning.property.empty() && !is_field) out += fmt::format(", \"saggar:unit\": {}", json_string(meaning.unit));
    if (meaning.to_date) out += describe_dates(facts, table, headings, meaning, meaning.remark);
    if (!meaning.guessed.empty()) out += fmt::format(", \"saggar:proposed\": {}", json_string(meaning.guessed));
    if (!meaning.remark.empty()) out += fmt::format(", \"rdfs:comment\": {}", json_string(meaning.remark));
    return out + "}";
}

std::string document_of(const TableFacts& table, const Headings& headings, char delimiter) {
    const std::string slug = slugify(std::filesystem::path(table.file).stem().string());
    std::string out = "{\n  \"@context\": \"http://www.w3.org/ns/csvw\",\n";
    out += fmt::format("  \"url\": {},\n  \"aboutUrl\": \"{}:{{{}}}\",\n", json_string(table.file), table.kind,
                       table.subject ? table.subject->name : "_row");
    if (table.kind_guessed)
        out += fmt::format("  \"saggar:proposed\": \"that a row speaks of a {}\",\n", table.kind);
    else if (!table.subject)
        out += "  \"saggar:proposed\": \"that each row speaks of another thing, known by the number of the row\",\n";
    if (table.subject && !table.one_row_each)
        out += fmt::format("  \"rdfs:comment\": {},\n",
                           json_string(fmt::format("rows with the same \"{}\" speak of one thing", table.subject->title)));
    std::string dialect;
    if (delimiter != ',') dialect = fmt::format("\"delimiter\": {}", json_string(std::string_view(&delimiter, 1)));
    if (table.rows_above != 0) dialect += fmt::format("{}\"skipRows\": {}", dialect.empty() ? "" : ", ", table.rows_above);
    if (table.blank_rows) dialect += fmt::format("{}\"skipBlankRows\": true", dialect.empty() ? "" : ", ");
    if (!dialect.empty()) out += fmt::format("  \"dialect\": {{{}}},\n", dialect);
    out += fmt::format("  \"saggar:source\": \"source:{}\",\n  \"tableSchema\": {{\n    \"columns\": [\n",
                       slug.empty() ? "table" : slug);
    for (std::size_t i = 0; i < table.columns.size(); ++i)
        out += describe(table.columns[i], table, headings) + (i + 1 < table.columns.size() ? ",\n" : "\n");
    return out + "    ]\n  }\n}\n";
}

}  // namespace

namespace {

std::vector<std::string> texts_of(const Row& row) {
    std::vector<std::string> texts;
    for (const Cell& cell : row.cells) texts.emplace_back(cell.text);
    return texts;
}

std::size_t filled(const std::vector<std::string>& texts) {
    return static_cast<std::size_t>(std::count_if(texts.begin(), texts.end(), [](const std::string& one) { return !trim(one).empty(); }));
}

// The first of the rows that is about as full as the fullest: what stands above is a title of the sheet.
std::size_t header_among(const std::vector<std::vector<std::string>>& rows) {
    std::size_t fullest = 0;
    for (const auto& row : rows) fullest = std::max(fullest, filled(row));
    for (std::size_t i = 0; i < rows.size(); ++i)
        if (2 * filled(rows[i]) >= fullest) return i;
    return 0;
}

// A total, a footnote or nothing at all: it says nothing of the columns.
bool is_beside_the_data(const std::vector<std::string>& texts, std::size_t columns) { return filled(texts) <= (columns > 2 ? 1u : 0u); }

}  // namespace

std::string suggest_metadata(TextInput& input, const std::string& file_name, const Vocabulary& vocabulary) {
    TableDialect dialect;
    dialect.delimiter = delimiter_of(input);
    TableReader reader(input, dialect);
    Row row;
    std::vector<std::vector<std::string>> first_rows;
    while (first_rows.size() < most_title_rows && reader.next(row)) first_rows.push_back(texts_of(row));
    if (first_rows.empty()) {
        if (!input.problems().any_error())
            input.problems().add({"table-empty", Severity::error, Place{input.name(), 0, 0, "", 0}, "the table is empty: it has not even a header", "check that this is the right file"});
        return {};
    }
    TableFacts table;
    table.file = file_name;
    table.rows_above = header_among(first_rows);
    std::set<std::string> names;
    for (const std::string& title : first_rows[table.rows_above]) {
        ColumnFacts facts;
        facts.title = title;
        facts.name = name_of_title(trim(title), table.columns.size() + 1);
        while (!names.insert(facts.name).second) facts.name += "_";
        facts.fitting = candidate_types();
        table.columns.push_back(std::move(facts));
    }
    const auto look_at_row = [&](const std::vector<std::string>& texts) {
        if (filled(texts) == 0) table.blank_rows = true;
        if (is_beside_the_data(texts, table.columns.size())) return;
        ++table.rows;
        for (std::size_t i = 0; i < std::min(table.columns.size(), texts.size()); ++i) look_at(table.columns[i], texts[i]);
    };
    for (std::size_t i = table.rows_above + 1; i < first_rows.size(); ++i) look_at_row(first_rows[i]);
    while (table.rows < rows_looked_at && reader.next(row)) look_at_row(texts_of(row));
    if (input.problems().any_error()) return {};
    const Headings headings(vocabulary);
    find_subject(table, headings);
    find_kind(table, headings, vocabulary);
    find_roles(table);
    return document_of(table, headings, dialect.delimiter);
}

}  // namespace saggar::csvw
