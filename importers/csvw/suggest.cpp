#include "importers/csvw/suggest.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <set>
#include <vector>

#include "importers/csvw/datatype.h"
#include "importers/table.h"
#include "importers/words.h"
#include "kg/model/json_write.h"
#include "kg/model/key.h"

namespace saggar::csvw {
namespace {

constexpr std::size_t rows_looked_at = 2000;
constexpr std::size_t shortest_guessed_word = 6;

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
    std::size_t lists = 0;
    std::set<std::string> different;
    std::vector<Datatype> fitting;  // types that every filled cell has had so far, the narrowest first
};

std::string json_text(std::string_view text) {
    std::string out;
    append_json_string(text, out);
    return out;
}

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

bool fits(std::string_view text, const Datatype& type) {
    std::string why;
    if (type.base->name == "anyURI") return text.substr(0, 7) == "http://" || text.substr(0, 8) == "https://";
    if (type.base->name == "gYear" && text.size() != 4) return false;  // a longer number is a number
    return read_value(text, type, why).has_value();
}

void look_at(ColumnFacts& facts, std::string_view cell) {
    cell = trim(cell);
    if (cell.empty()) return;
    ++facts.filled;
    facts.lists += cell.find(';') != std::string_view::npos;
    facts.different.emplace(cell);
    facts.fitting.erase(std::remove_if(facts.fitting.begin(), facts.fitting.end(),
                                       [&](const Datatype& type) { return !fits(cell, type); }),
                        facts.fitting.end());
}

// field:NAME or relation:NAME for a heading; empty where none is near.
std::string property_for(const std::string& title, const std::string& kind, const Vocabulary& vocabulary) {
    std::string word = fold(trim(title));
    for (char& c : word) c = c == ' ' || c == '_' ? '-' : c;
    for (const auto& [name, field] :
         {std::pair("label", "label"), std::pair("title", "label"), std::pair("name", "label"),
          std::pair("also", "also"), std::pair("remark", "remark"), std::pair("remarks", "remark"),
          std::pair("notes", "remark"), std::pair("description", "remark"), std::pair("image", "image"),
          std::pair("url", "identifier")}) {
        if (word == name) return fmt::format("field:{}", field);
    }
    // Only what can be said of the subject: by its whole name, by a word of it ("mark" of bears-mark), by its start ("designer"
    // for designed-by), or, for longer words, by being nearly it.
    const auto said_of_it = [&](const Relation& relation) { return relation.takes_subject(kind); };
    if (const Relation* relation = vocabulary.find_relation(word); relation && said_of_it(*relation))
        return "relation:" + word;
    for (const Relation& relation : vocabulary.relations()) {
        const std::vector<std::string_view> words = split_list(relation.name, "-");
        if (said_of_it(relation) && std::find(words.begin(), words.end(), word) != words.end())
            return "relation:" + relation.name;
    }
    for (const Relation& relation : vocabulary.relations()) {
        const std::string stem = relation.name.substr(0, relation.name.find('-'));
        const bool alike = stem.size() > 4 && word.substr(0, stem.size() - 2) == stem.substr(0, stem.size() - 2);
        if (alike && said_of_it(relation)) return "relation:" + relation.name;
    }
    const auto nearest = word.size() < shortest_guessed_word ? std::nullopt : vocabulary.nearest_relation(word);
    const Relation* relation = nearest ? vocabulary.find_relation(*nearest) : nullptr;
    return relation && said_of_it(*relation) ? "relation:" + *nearest : std::string();
}

// The kind a file's name speaks of ("pieces.csv"), else "piece", else the first.
std::string kind_for(const std::string& stem, const Vocabulary& vocabulary) {
    for (const Kind& kind : vocabulary.kinds()) {
        if (fold(stem) == kind.name || fold(stem) == fold(kind.plural)) return kind.name;
    }
    return vocabulary.find_kind("piece") || vocabulary.kinds().empty() ? "piece" : vocabulary.kinds().front().name;
}

std::string describe(const ColumnFacts& facts, bool names_subject, const std::string& kind,
                     const Vocabulary& vocabulary) {
    std::string out =
        fmt::format("      {{\"titles\": {}, \"name\": {}", json_text(facts.title), json_text(facts.name));
    if (facts.filled && !facts.fitting.empty())
        out += fmt::format(", \"datatype\": \"{}\"", facts.fitting.front().base->name);
    if (facts.lists * 3 > facts.filled && facts.filled) out += ", \"separator\": \";\"";
    if (names_subject) return out + ", \"required\": true}";
    const std::string property = property_for(facts.title, kind, vocabulary);
    if (!property.empty()) out += fmt::format(", \"propertyUrl\": \"{}\"", property);
    if (property.substr(0, 9) == "relation:") {
        const auto use = vocabulary.find_use(property.substr(9));
        const Relation* relation = use ? &vocabulary.relation(use->relation) : nullptr;
        const auto& kinds = relation && use->inverse ? relation->from
                            : relation               ? relation->to
                                                     : std::vector<std::string>();
        const bool value = relation && !use->inverse && (relation->to_text || relation->to_date || relation->to_number);
        if (!kinds.empty() && !value) out += fmt::format(", \"valueUrl\": \"{}:{{{}}}\"", kinds.front(), facts.name);
    }
    return out + "}";
}

}  // namespace

std::string suggest_metadata(TextInput& input, const std::string& file_name, const Vocabulary& vocabulary) {
    TableDialect dialect;
    dialect.delimiter = delimiter_of(input);
    TableReader reader(input, dialect);
    Row row;
    if (!reader.next(row)) return {};
    std::vector<ColumnFacts> columns;
    std::set<std::string> names;
    for (const Cell& cell : row.cells) {
        ColumnFacts facts;
        facts.title = std::string(cell.text);
        facts.name = name_of_title(trim(cell.text), columns.size() + 1);
        while (!names.insert(facts.name).second) facts.name += "_";
        facts.fitting = candidate_types();
        columns.push_back(std::move(facts));
    }
    std::size_t rows = 0;
    while (rows < rows_looked_at && reader.next(row)) {
        ++rows;
        for (std::size_t i = 0; i < std::min(columns.size(), row.cells.size()); ++i)
            look_at(columns[i], row.cells[i].text);
    }
    if (input.problems().any_error()) return {};
    const auto subject = std::find_if(columns.begin(), columns.end(), [&](const ColumnFacts& facts) {
        return rows > 0 && facts.filled == rows && facts.different.size() == rows;
    });
    const std::string stem = std::filesystem::path(file_name).stem().string();
    const std::string slug = slugify(stem);
    const std::string kind = kind_for(stem, vocabulary);
    const std::string subject_name = subject == columns.end() ? "_row" : subject->name;
    std::string out = "{\n  \"@context\": \"http://www.w3.org/ns/csvw\",\n";
    out += fmt::format("  \"url\": {},\n  \"aboutUrl\": \"{}:{{{}}}\",\n", json_text(file_name), kind, subject_name);
    if (dialect.delimiter != ',')
        out += fmt::format("  \"dialect\": {{\"delimiter\": {}}},\n", json_text(std::string_view(&dialect.delimiter, 1)));
    out += fmt::format("  \"saggar:source\": \"source:{}\",\n  \"tableSchema\": {{\n    \"columns\": [\n",
                       slug.empty() ? "table" : slug);
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const bool names_subject = subject != columns.end() && &*subject == &columns[i];
        out += describe(columns[i], names_subject, kind, vocabulary) + (i + 1 < columns.size() ? ",\n" : "\n");
    }
    return out + "    ]\n  }\n}\n";
}

}  // namespace saggar::csvw
