// Metadata of tables as read from a document (W3C, "Metadata Vocabulary for Tabular Data", Recommendation 17 December
// 2015).
//
// What the Recommendation calls an error is an error here; what it lets pass with a warning (an unknown property, a
// value of the wrong type) is a warning, and the default is used. Inherited properties are already copied down to the
// columns. Besides the standard's terms, our own annotations are read; as the standard asks, they are common properties
// with a prefix:
//
//   "saggar:source", "saggar:at", "saggar:quote", "saggar:certainty", "saggar:stance", "saggar:scope", "saggar:when",
//   "saggar:remark", "saggar:recorded_by", "saggar:recorded_on"   text templates: {name} stands for the cell of that
//   column "saggar:value"       (column) a text template that takes the place of the cell's value "saggar:unit"
//   (column) the unit of its numbers "saggar:role"        (column) a text template that gives the words of a role,
//   looked up in "saggar:roles"       [{"saggar:word", "saggar:relation", "saggar:certainty", "saggar:stance"}...]
//   "saggar:other-roles" "error" (default) or "pass"
//   "saggar:phases"      (column) [{"saggar:word", "saggar:relation"}...]: the relation for each labelled date of a
//   cell "saggar:unreadable"  (column) "error" (default) or "warn": what a value that cannot be read is
#pragma once

#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "importers/csvw/datatype.h"
#include "importers/csvw/uri_template.h"
#include "kg/model/problem.h"

namespace saggar::csvw {

// One entry of a look-up from words to relations.
struct RoleWord {
    std::string word;
    std::string relation;  // empty: the word is known, and says nothing to us
    std::string certainty;
    std::string stance;
};

// How a column's cells are read and what becomes of them; all of it can be set on table group, table and schema too.
struct CellRules {
    std::string default_text;
    std::vector<std::string> nulls{""};
    std::optional<std::string> separator;
    bool required = false;
    Datatype datatype;
    std::optional<UriTemplate> about_url;
    std::optional<UriTemplate> property_url;
    std::optional<UriTemplate> value_url;
    std::string language;
    // Our annotations by their name without the prefix.
    std::map<std::string, std::string> own;
    std::vector<RoleWord> roles;
    std::vector<RoleWord> phases;
};

struct Title {
    std::string text;
    std::string language;  // "und": any
};

struct Column : CellRules {
    std::string name;
    std::vector<Title> titles;
    bool is_virtual = false;
    bool suppress_output = false;
    Place place;  // of its description
};

enum class Trim : std::uint8_t { none, start, end, both };

struct Dialect {
    std::string delimiter = ",";
    std::string quote = "\"";
    bool double_quote = true;
    std::string comment_prefix = "#";
    std::size_t skip_rows = 0;
    std::size_t header_rows = 1;
    std::size_t skip_columns = 0;
    bool skip_blank_rows = false;
    Trim trim = Trim::none;
};

struct ForeignKey {
    std::vector<std::string> columns;
    std::string resource;  // url of the table, as written
    std::string schema;    // or the @id of its schema
    std::vector<std::string> referenced;
    Place place;
};

struct Table {
    std::string url;  // as written
    std::vector<Column> columns;
    std::vector<std::string> primary_key;
    std::vector<ForeignKey> foreign_keys;
    std::string schema_id;
    Dialect dialect;
    bool suppress_output = false;
    bool has_schema = false;  // columns were given
    Place place;
};

// A sound property of the Recommendation of which nothing becomes a record.
struct UnusedProperty {
    std::string name;
    std::string why;
    Place place;  // where it stands first
};

struct TableGroup {
    std::vector<Table> tables;
    std::vector<UnusedProperty> unused;  // by name, each once; a load tells of them
    std::string base;      // @base, as written
    std::string language;  // @language
};

// Reads a document. Nothing where there was an error. Schemas and dialects named by URL are read from files beside
// `path`.
std::optional<TableGroup> read_metadata(std::string_view text, const std::filesystem::path& path, Problems& problems);

// The table of the group that describes the file `name`: the one whose url ends with it, else the only one. Null: none.
const Table* table_for(const TableGroup& group, std::string_view file_name);

}  // namespace saggar::csvw
