#include "importers/csvw/metadata.h"

#include <fmt/format.h>

#include <fstream>
#include <sstream>

#include "importers/csvw/metadata_reader.h"

namespace saggar::csvw {
namespace {

constexpr std::string_view csvw_namespace = "http://www.w3.org/ns/csvw";

}  // namespace

std::optional<TableGroup> MetadataReader::read() {
    const JsonNode& root = tree_.root();
    if (!root.is(JsonNode::Type::object)) {
        error(root, "csvw-no-object", "metadata is a JSON object", "put it in { }");
        return std::nullopt;
    }
    TableGroup group;
    read_context(root, group);
    CellRules rules;
    rules.language = language_;
    const JsonNode* tables = tree_.member(root, "tables");
    if (!tables) {
        const JsonNode* type = tree_.member(root, "@type");
        if (type && type->is(JsonNode::Type::string) && type->text == "TableGroup") {
            error(root, "csvw-no-tables", "a table group needs \"tables\"",
                  "list the tables, or describe one with \"url\"");
            return std::nullopt;
        }
        read_table(root, rules, Dialect(), nullptr, group);
    } else {
        check_id(root);
        check_type(root, "TableGroup");
        read_properties(root,
                        {"@context", "tables", "dialect", "notes", "tableDirection", "tableSchema", "transformations"},
                        rules);
        const JsonNode* direction = tree_.member(root, "tableDirection");
        if (direction && (!direction->is(JsonNode::Type::string) ||
                          (direction->text != "rtl" && direction->text != "ltr" && direction->text != "auto"))) {
            warn_value(*direction, "rtl, ltr or auto");
        }
        if (const JsonNode* node = tree_.member(root, "transformations")) check_transformations(*node);
        Table shared;
        if (const JsonNode* dialect = tree_.member(root, "dialect")) {
            with_object(*dialect, &MetadataReader::read_dialect_object, shared);
        }
        if (!tables->is(JsonNode::Type::array)) warn_value(*tables, "an array of tables");
        for (const JsonNode* one = tree_.first(*tables); one && tables->is(JsonNode::Type::array);
             one = tree_.next(*one)) {
            if (one->is(JsonNode::Type::object))
                read_table(*one, rules, shared.dialect, tree_.member(root, "tableSchema"), group);
            else
                warn_value(*one, "a description of a table");
        }
        if (group.tables.empty() && good_) {
            error(*tables, "csvw-no-tables", "the group holds no table", "describe at least one table");
        }
    }
    group.unused = std::move(unused_);
    return good_ ? std::optional(std::move(group)) : std::nullopt;
}

void MetadataReader::read_context(const JsonNode& root, TableGroup& group) {
    const JsonNode* context = tree_.member(root, "@context");
    const JsonNode* name = context;
    const JsonNode* local = nullptr;
    if (context && context->is(JsonNode::Type::array)) {
        name = tree_.first(*context);
        local = name ? tree_.next(*name) : nullptr;
        if (context->count > 2) name = nullptr;
    }
    if (!name || !name->is(JsonNode::Type::string) || name->text != csvw_namespace) {
        error(context ? *context : root, "csvw-context", fmt::format("the @context is not {}", csvw_namespace),
              fmt::format("write \"@context\": \"{}\"", csvw_namespace));
        return;
    }
    for (const JsonNode* field = local ? tree_.first(*local) : nullptr; field; field = tree_.next(*field)) {
        if (field->key == "@language") {
            if (field->is(JsonNode::Type::string) && is_language_tag(field->text))
                language_ = std::string(field->text);
            else
                warn_value(*field, "a language tag");
        } else if (field->key == "@base" && field->is(JsonNode::Type::string)) {
            base_ = std::string(field->text);
        } else {
            error(*field, "csvw-context", "a local context holds @base and @language only", "take the rest out");
        }
    }
    if (local && (!local->is(JsonNode::Type::object) || local->count == 0)) {
        error(*local, "csvw-context", "the second part of @context is an object with @base or @language",
              "mend it or take it out");
    }
    group.base = base_;
    group.language = language_;
}

void MetadataReader::read_table(const JsonNode& node, const CellRules& rules, const Dialect& dialect,
                                const JsonNode* group_schema, TableGroup& group) {
    Table table;
    table.place = place(node);
    table.dialect = dialect;
    check_id(node);
    check_type(node, "Table");
    const JsonNode* url = tree_.member(node, "url");
    if (!url || !url->is(JsonNode::Type::string)) {
        error(url ? *url : node, "csvw-no-url", "a table needs its \"url\"", "name the file of the table");
        return;
    }
    table.url = std::string(url->text);
    CellRules own = rules;
    read_properties(
        node,
        {"@context", "url", "dialect", "notes", "suppressOutput", "tableDirection", "tableSchema", "transformations"},
        own);
    for (const auto& [name, wanted] :
         {std::pair("suppressOutput", "true or false"), std::pair("tableDirection", "rtl, ltr or auto")}) {
        const JsonNode* field = tree_.member(node, name);
        if (!field) continue;
        const bool boolean = std::string_view(name) == "suppressOutput";
        const bool good = boolean ? field->is(JsonNode::Type::boolean)
                                  : field->is(JsonNode::Type::string) &&
                                        (field->text == "rtl" || field->text == "ltr" || field->text == "auto");
        if (!good)
            warn_value(*field, wanted);
        else if (boolean)
            table.suppress_output = field->truth;
    }
    if (const JsonNode* transformations = tree_.member(node, "transformations"))
        check_transformations(*transformations);
    if (const JsonNode* own_dialect = tree_.member(node, "dialect")) {
        table.dialect = Dialect();  // a table's dialect takes the place of the group's as a whole
        with_object(*own_dialect, &MetadataReader::read_dialect_object, table);
    }
    const JsonNode* schema = tree_.member(node, "tableSchema");
    if (!schema) schema = group_schema;
    pending_rules_ = own;
    // A schema that is none counts as one without columns, which no table with a header fits.
    table.has_schema = schema && !schema->is(JsonNode::Type::object) && !schema->is(JsonNode::Type::string);
    if (schema) with_object(*schema, &MetadataReader::read_schema_object, table);
    group.tables.push_back(std::move(table));
}

void MetadataReader::with_object(const JsonNode& node, void (MetadataReader::*part)(const JsonNode&, Table&),
                                 Table& table) {
    if (node.is(JsonNode::Type::object)) return (this->*part)(node, table);
    if (!node.is(JsonNode::Type::string)) {
        warn_value(node, "an object, or the URL of a file");
        return;
    }
    const std::filesystem::path file = path_.parent_path() / std::string(node.text);
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream bytes;
    bytes << stream.rdbuf();
    if (!stream) {
        error(node, "csvw-no-file", fmt::format("\"{}\" cannot be read", node.text),
              "put the file beside the metadata");
        return;
    }
    const std::string text = bytes.str();
    const std::string name = file.string();
    const TextLines lines(name, text);
    JsonTree tree;
    MetadataReader reader(lines, tree, file, problems_);
    reader.language_ = language_;
    reader.pending_rules_ = pending_rules_;
    if (!tree.parse(lines, problems_) || !tree.root().is(JsonNode::Type::object)) {
        good_ = false;
        return;
    }
    (reader.*part)(tree.root(), table);
    good_ = good_ && reader.good_;
    for (UnusedProperty& one : reader.unused_) {
        if (std::none_of(unused_.begin(), unused_.end(), [&](const UnusedProperty& known) { return known.name == one.name; }))
            unused_.push_back(std::move(one));
    }
}

// Section 5.10; we run no transformations, but a wrong description of one is told.
void MetadataReader::check_transformations(const JsonNode& node) {
    if (!node.is(JsonNode::Type::array)) {
        warn_value(node, "an array of transformations");
        return;
    }
    for (const JsonNode* one = tree_.first(node); one; one = tree_.next(*one)) {
        if (!one->is(JsonNode::Type::object)) {
            warn_value(*one, "a transformation");
            continue;
        }
        check_id(*one);
        check_type(*one, "Template");
        CellRules none;
        for (const JsonNode* field = tree_.first(*one); field; field = tree_.next(*field)) {
            const std::string_view key = field->key;
            if (key == "url" || key == "scriptFormat" || key == "targetFormat" || key == "source" || key == "titles" ||
                key == "@id" || key == "@type")
                continue;
            if (is_common_name(key))
                check_common(*field);
            else
                warn(*field, fmt::format("\"{}\" is no property of a transformation", key), "check the spelling");
        }
        for (const char* needed : {"url", "scriptFormat", "targetFormat"}) {
            if (!tree_.member(*one, needed))
                error(*one, "csvw-transformation", fmt::format("a transformation needs \"{}\"", needed), "add it");
        }
    }
}

std::optional<TableGroup> read_metadata(std::string_view text, const std::filesystem::path& path, Problems& problems) {
    const std::string name = path.string();
    if (text.substr(0, 3) == "\xEF\xBB\xBF") text.remove_prefix(3);
    const TextLines lines(name, text);
    JsonTree tree;
    if (!tree.parse(lines, problems)) return std::nullopt;
    return MetadataReader(lines, tree, path, problems).read();
}

const Table* table_for(const TableGroup& group, std::string_view file_name) {
    for (const Table& table : group.tables) {
        const std::string_view url = table.url;
        if (url.substr(url.find_last_of("/\\") + 1) == file_name) return &table;
    }
    return group.tables.size() == 1 ? &group.tables.front() : nullptr;
}

}  // namespace saggar::csvw
