// Schemas in metadata: columns, titles, keys; sections 5.5 and 5.6.
#include <fmt/format.h>

#include <set>

#include "importers/csvw/metadata_reader.h"

namespace saggar::csvw {
namespace {

// varname of RFC 6570, not starting with "_".
bool is_column_name(std::string_view name) {
    return !name.empty() && name.front() != '_' && std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '.' ||
               c == '%' || static_cast<unsigned char>(c) >= 0x80;
    });
}

}  // namespace

void MetadataReader::read_schema_object(const JsonNode& schema, Table& table) {
    CellRules rules = pending_rules_;
    check_id(schema);
    check_type(schema, "Schema");
    if (const JsonNode* id = tree_.member(schema, "@id"); id && id->is(JsonNode::Type::string))
        table.schema_id = std::string(id->text);
    read_properties(schema, {"@context", "columns", "foreignKeys", "primaryKey", "rowTitles"}, rules);
    if (const JsonNode* columns = tree_.member(schema, "columns")) read_columns(*columns, rules, table);
    if (const JsonNode* key = tree_.member(schema, "primaryKey")) {
        table.primary_key = read_column_reference(*key);
        for (const std::string& name : table.primary_key) {
            const bool known = std::any_of(table.columns.begin(), table.columns.end(),
                                           [&](const Column& c) { return c.name == name; });
            if (known) continue;
            warn(*key, fmt::format("the primary key names the column \"{}\", which is not there", name),
                 "use the names of columns");
            table.primary_key.clear();
            break;
        }
    }
    if (const JsonNode* titles = tree_.member(schema, "rowTitles")) read_column_reference(*titles);
    if (const JsonNode* keys = tree_.member(schema, "foreignKeys")) read_foreign_keys(*keys, table);
}

void MetadataReader::read_columns(const JsonNode& columns, const CellRules& rules, Table& table) {
    if (!columns.is(JsonNode::Type::array)) {
        warn_value(columns, "an array of columns");
        table.has_schema = true;  // as if the array were empty
        return;
    }
    table.has_schema = true;
    std::set<std::string> names;
    bool virtual_seen = false;
    for (const JsonNode* one = tree_.first(columns); one; one = tree_.next(*one)) {
        if (!one->is(JsonNode::Type::object)) {
            warn_value(*one, "a description of a column");
            continue;
        }
        read_column(*one, rules, table);
        const Column& column = table.columns.back();
        if (!names.insert(column.name).second) {
            error(*one, "csvw-doubled-column", fmt::format("two columns are named \"{}\"", column.name),
                  "give each column a name of its own");
        }
        if (virtual_seen && !column.is_virtual) {
            error(*one, "csvw-virtual-first", "a virtual column stands before this one of the file",
                  "put virtual columns last");
        }
        virtual_seen = virtual_seen || column.is_virtual;
    }
}

void MetadataReader::read_column(const JsonNode& node, CellRules rules, Table& table) {
    Column column;
    column.place = place(node);
    check_id(node);
    check_type(node, "Column");
    read_properties(node, {"@context", "name", "suppressOutput", "titles", "virtual"}, rules);
    static_cast<CellRules&>(column) = std::move(rules);
    if (const JsonNode* name = tree_.member(node, "name")) {
        if (name->is(JsonNode::Type::string) && is_column_name(name->text))
            column.name = std::string(name->text);
        else
            warn_value(*name, "a name of letters, digits, _ and ., not starting with _");
    }
    for (const auto& [key, flag] :
         {std::pair("virtual", &column.is_virtual), std::pair("suppressOutput", &column.suppress_output)}) {
        const JsonNode* field = tree_.member(node, key);
        if (field && field->is(JsonNode::Type::boolean))
            *flag = field->truth;
        else if (field)
            warn_value(*field, "true or false");
    }
    if (const JsonNode* titles = tree_.member(node, "titles")) read_titles(*titles, language_, column.titles);
    name_column(column, table);
    table.columns.push_back(std::move(column));
}

// Section 5.6: a column without a name gets its first title's, percent-encoded, else "_col." and its number.
void MetadataReader::name_column(Column& column, const Table& table) const {
    if (!column.name.empty()) return;
    for (const Title& title : column.titles) {
        if (title.language == language_ || title.language == "und" || language_ == "und") {
            append_encoded(title.text, false, column.name);
            return;
        }
    }
    column.name = fmt::format("_col.{}", table.columns.size() + 1);
}

void MetadataReader::read_titles(const JsonNode& node, const std::string& language, std::vector<Title>& titles) {
    if (node.is(JsonNode::Type::string)) {
        titles.push_back({std::string(node.text), language});
    } else if (node.is(JsonNode::Type::array)) {
        for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) {
            if (one->is(JsonNode::Type::string))
                titles.push_back({std::string(one->text), language});
            else
                warn_value(*one, "a string");
        }
    } else if (node.is(JsonNode::Type::object)) {
        for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) {
            if (!is_language_tag(one->key)) {
                warn(*one, fmt::format("\"{}\" is no language tag", one->key), "use tags of BCP 47, for example en");
            } else if (one->is(JsonNode::Type::string) || one->is(JsonNode::Type::array)) {
                read_titles(*one, std::string(one->key), titles);
            } else {
                warn_value(*one, "a string, or an array of them");
            }
        }
    } else {
        warn_value(node, "a string, an array or an object");
    }
}

std::vector<std::string> MetadataReader::read_column_reference(const JsonNode& node) {
    std::vector<std::string> names;
    if (node.is(JsonNode::Type::string)) {
        names.emplace_back(node.text);
    } else if (node.is(JsonNode::Type::array) && node.count > 0) {
        for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) {
            if (one->is(JsonNode::Type::string))
                names.emplace_back(one->text);
            else
                warn_value(*one, "the name of a column");
        }
    } else {
        warn_value(node, "the name of a column, or an array of them");
    }
    return names;
}

void MetadataReader::read_foreign_keys(const JsonNode& keys, Table& table) {
    if (!keys.is(JsonNode::Type::array)) {
        warn_value(keys, "an array of foreign keys");
        return;
    }
    for (const JsonNode* one = tree_.first(keys); one; one = tree_.next(*one)) {
        if (one->is(JsonNode::Type::object))
            read_foreign_key(*one, table);
        else
            warn_value(*one, "a foreign key");
    }
}

void MetadataReader::read_foreign_key(const JsonNode& node, Table& table) {
    ForeignKey key;
    key.place = place(node);
    const auto only = [&](const JsonNode& object, std::initializer_list<std::string_view> known) {
        for (const JsonNode* field = tree_.first(object); field; field = tree_.next(*field)) {
            if (std::find(known.begin(), known.end(), field->key) != known.end()) continue;
            error(*field, "csvw-foreign-key", fmt::format("\"{}\" may not stand in a foreign key", field->key),
                  "take it out");
        }
    };
    only(node, {"columnReference", "reference"});
    if (const JsonNode* columns = tree_.member(node, "columnReference")) key.columns = read_column_reference(*columns);
    for (const std::string& name : key.columns) {
        if (std::any_of(table.columns.begin(), table.columns.end(), [&](const Column& c) { return c.name == name; }))
            continue;
        error(node, "csvw-foreign-key",
              fmt::format("the foreign key names the column \"{}\", which is not there", name),
              "use the names of columns");
    }
    const JsonNode* reference = tree_.member(node, "reference");
    if (!reference || !reference->is(JsonNode::Type::object)) {
        error(node, "csvw-foreign-key", "a foreign key needs its \"reference\"", "name the table and its columns");
        return;
    }
    only(*reference, {"resource", "schemaReference", "columnReference"});
    const JsonNode* resource = tree_.member(*reference, "resource");
    const JsonNode* schema = tree_.member(*reference, "schemaReference");
    if (resource && resource->is(JsonNode::Type::string)) key.resource = std::string(resource->text);
    if (schema && schema->is(JsonNode::Type::string)) key.schema = std::string(schema->text);
    if (key.resource.empty() == key.schema.empty()) {
        error(*reference, "csvw-foreign-key", "a reference names either a resource or a schemaReference",
              "give one of the two");
    }
    if (const JsonNode* columns = tree_.member(*reference, "columnReference"))
        key.referenced = read_column_reference(*columns);
    if (key.columns.size() != key.referenced.size() || key.columns.empty()) {
        error(node, "csvw-foreign-key", "the two columnReferences differ in number",
              "name as many columns on both sides");
    }
    table.foreign_keys.push_back(std::move(key));
}

}  // namespace saggar::csvw
