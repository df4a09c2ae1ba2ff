// The reader behind metadata.h, shared by its sources: one JSON document, its places, and how problems are told.
#pragma once

#include <algorithm>
#include <initializer_list>

#include "importers/csvw/metadata.h"
#include "kg/model/json_tree.h"

namespace saggar::csvw {

class MetadataReader {
public:
    MetadataReader(const TextLines& lines, const JsonTree& tree, std::filesystem::path path, Problems& problems)
        : lines_(lines), tree_(tree), path_(std::move(path)), problems_(problems) {}

    std::optional<TableGroup> read();

private:
    // Telling problems. Each returns false.
    bool error(const JsonNode& node, std::string id, std::string message, std::string next);
    bool warn(const JsonNode& node, std::string message, std::string next);
    bool warn_value(const JsonNode& node, std::string_view wanted);
    // Keeps what is right and yet without effect, once for each name.
    void unused(const JsonNode& node, const char* why);
    Place place(const JsonNode& node) const { return lines_.place(node.begin, std::min(node.end, node.begin + 120)); }

    // metadata.cpp: the shape of the document.
    void read_context(const JsonNode& root, TableGroup& group);
    void read_table(const JsonNode& node, const CellRules& rules, const Dialect& dialect, const JsonNode* group_schema,
                    TableGroup& group);
    void read_columns(const JsonNode& columns, const CellRules& rules, Table& table);
    void read_column(const JsonNode& node, CellRules rules, Table& table);
    void read_titles(const JsonNode& node, const std::string& language, std::vector<Title>& titles);
    void name_column(Column& column, const Table& table) const;
    void read_foreign_keys(const JsonNode& keys, Table& table);
    void read_foreign_key(const JsonNode& key, Table& table);
    std::vector<std::string> read_column_reference(const JsonNode& node);
    void check_transformations(const JsonNode& node);
    // A schema or dialect: an object here, or the file a string names.
    void with_object(const JsonNode& node, void (MetadataReader::*part)(const JsonNode&, Table&), Table& table);
    void read_schema_object(const JsonNode& schema, Table& table);
    void read_dialect_object(const JsonNode& dialect, Table& table);

    // metadata_properties.cpp: what may stand on any description.
    bool check_id(const JsonNode& object);
    bool check_type(const JsonNode& object, std::string_view type);
    // Reads inherited and common properties; warns of what is neither and not among `others`.
    void read_properties(const JsonNode& object, std::initializer_list<std::string_view> others, CellRules& rules);
    bool read_inherited(const JsonNode& node, CellRules& rules);
    void read_template(const JsonNode& node, std::optional<UriTemplate>& out);
    void read_own(const JsonNode& node, CellRules& rules);
    std::vector<RoleWord> read_role_words(const JsonNode& node);
    bool check_common(const JsonNode& value);
    bool check_value_object(const JsonNode& object, const JsonNode& value);
    bool check_type_value(const JsonNode& type, bool of_value);

    // metadata_datatype.cpp
    void read_datatype(const JsonNode& node, Datatype& datatype);
    void read_format(const JsonNode& node, Datatype& datatype);
    void read_number_format(const JsonNode& node, Datatype& datatype);
    void read_limits(const JsonNode& node, Datatype& datatype);

    const TextLines& lines_;
    const JsonTree& tree_;
    std::filesystem::path path_;
    Problems& problems_;
    bool good_ = true;
    std::string language_ = "und";
    std::string base_;
    std::vector<UnusedProperty> unused_;
    CellRules pending_rules_;  // for a schema that with_object reads
};

// By its form (language.h), and at least two letters.
bool is_language_tag(std::string_view text);

// "dc:title" with a prefix that the CSVW context knows, or an absolute URL.
bool is_common_name(std::string_view name);

}  // namespace saggar::csvw
