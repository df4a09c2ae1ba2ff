// What to do with each column, worked out once from the metadata.
#include <fmt/format.h>

#include <algorithm>

#include "importers/csvw/row_records.h"
#include "importers/thing_rows.h"
#include "importers/words.h"
#include "kg/model/key.h"

namespace saggar::csvw {
namespace {

constexpr std::string_view own_names[] = {"source", "at",     "quote",       "certainty",   "stance", "scope",
                                          "when",   "remark", "recorded_by", "recorded_on", "value",  "role",
                                          "label"};
bool is_entity_field(std::string_view field) {
    return field == "label" || field == "also" || field == "remark" || field == "image" || field == "identifier" ||
           field == "private";
}

}  // namespace

bool RowRecords::wrong(std::size_t column, std::string id, std::string message, std::string next) {
    problems_.add({std::move(id), Severity::error, rows_.columns()[column].place, std::move(message), std::move(next)});
    return false;
}

bool RowRecords::plan() {
    static_assert(std::size(own_names) == own_count);
    bool good = true;
    for (std::size_t i = 0; i < rows_.columns().size(); ++i) good = plan_column(i) && good;
    if (good && plans_.empty()) {
        const bool proposed = std::any_of(rows_.columns().begin(), rows_.columns().end(),
                                          [](const Column& column) { return column.own.count("proposed") != 0; });
        problems_.add(
            {"csvw-nothing-to-read", Severity::error, rows_.columns().empty() ? Place() : rows_.columns().front().place,
             proposed ? "what the columns mean is only proposed" : "no column says what its cells mean to us",
             proposed ? "check what is marked \"saggar:proposed\", and take the marks out where it is right"
                      : "give columns a propertyUrl: relation:NAME or field:NAME"});
        return false;
    }
    return good;
}

bool RowRecords::plan_column(std::size_t index) {
    const Column& column = rows_.columns()[index];
    if (column.suppress_output || (!column.property_url && column.roles.empty() && column.phases.empty())) return true;
    if (const auto proposed = column.own.find("proposed"); proposed != column.own.end()) {
        problems_.add({"csvw-proposed", Severity::warning, column.place,
                       fmt::format("the column \"{}\" is passed over: its meaning is only proposed ({})", column.name, proposed->second),
                       "check it, and take \"saggar:proposed\" out where it is right"});
        return true;
    }
    Plan plan;
    plan.column = index;
    if (!column.about_url) {
        return wrong(index, "csvw-no-subject",
                     fmt::format("the column \"{}\" says something, but of what?", column.name),
                     "give it (or the schema) an aboutUrl, for example piece:{number}");
    }
    if (column.property_url && !column.property_url->has_variables()) {
        plan.property = column.property_url->text();
        const std::string_view property = *plan.property;
        const bool relation = starts(property, relation_prefix);
        const std::string name(property.substr(std::min(property.size(), relation_prefix.size())));
        if (relation && !context_.vocabulary.find_use(name)) {
            return wrong(index, "relation-unknown",
                         fmt::format("unknown relation \"{}\"{}", name,
                                     Vocabulary::suggestion(context_.vocabulary.nearest_relation(name))),
                         fmt::format("use a relation of the vocabulary \"{}\"", context_.vocabulary.name()));
        }
        const std::string_view field = property.substr(std::min(property.size(), field_prefix.size()));
        if (starts(property, field_prefix) && !is_entity_field(field) && !is_source_column(field)) {
            return wrong(index, "csvw-unknown-field", fmt::format("there is no field \"{}\"", field),
                         fmt::format("fields are label, also, remark, image, identifier, {}",
                                     fmt::join(SourceRows::column_names(), ", ")));
        }
        // A property of somebody else's is for somebody else.
        if (!relation && !starts(property, field_prefix) && !starts(property, csl_prefix)) return true;
    }
    for (const auto& [name, text] : column.own) {
        const auto known = std::find(std::begin(own_names), std::end(own_names), name);
        if (name == "unit") plan.unit = text;
        if (name == "unreadable") plan.lenient = text == "warn";
        if (name == "other-roles") plan.pass_other_roles = text == "pass";
        if (known == std::end(own_names)) continue;
        std::string why;
        auto parsed = TextTemplate::parse(text, rows_, why);
        if (!parsed)
            return wrong(index, "csvw-template", fmt::format("\"saggar:{}\" cannot be read: {}", name, why),
                         "use the names of columns in braces");
        plan.own[static_cast<std::size_t>(known - std::begin(own_names))] = std::move(*parsed);
    }
    for (const UriTemplate* url :
         {column.about_url ? &*column.about_url : nullptr, column.value_url ? &*column.value_url : nullptr,
          column.property_url ? &*column.property_url : nullptr}) {
        for (const std::string& name : url ? url->variables() : std::vector<std::string>()) {
            const bool known = name.front() == '_' || std::any_of(rows_.columns().begin(), rows_.columns().end(),
                                                                  [&](const Column& c) { return c.name == name; });
            if (!known)
                return wrong(index, "csvw-template",
                             fmt::format("\"{}\" names the column \"{}\", which is not there", url->text(), name),
                             "use the names of columns");
        }
    }
    for (const std::string& name : column.value_url ? column.value_url->variables() : std::vector<std::string>()) {
        for (std::size_t i = 0; i < rows_.columns().size(); ++i)
            if (rows_.columns()[i].name == name) plan.asked.push_back(i);
        if (name.front() == '_') {
            plan.asked.clear();
            break;
        }
    }
    // Roles may be given once for the whole table; a column that has no role of its own does not look one up.
    const bool has_role = plan.own[role].has_value();
    if (!column.property_url && !has_role && column.phases.empty()) return true;
    for (const RoleWord& word : column.roles) {
        if (!has_role) break;
        if (!word.relation.empty() && !context_.vocabulary.find_use(word.relation)) {
            return wrong(index, "relation-unknown",
                         fmt::format("unknown relation \"{}\" for the role \"{}\"{}", word.relation, word.word,
                                     Vocabulary::suggestion(context_.vocabulary.nearest_relation(word.relation))),
                         fmt::format("use a relation of the vocabulary \"{}\"", context_.vocabulary.name()));
        }
        plan.roles[fold(trim(word.word))].push_back(&word);
    }
    for (const RoleWord& word : column.phases) {
        if (!word.relation.empty() && !context_.vocabulary.find_use(word.relation)) {
            return wrong(index, "relation-unknown",
                         fmt::format("unknown relation \"{}\" for the dates \"{}\"{}", word.relation, word.word,
                                     Vocabulary::suggestion(context_.vocabulary.nearest_relation(word.relation))),
                         fmt::format("use a relation of the vocabulary \"{}\"", context_.vocabulary.name()));
        }
        plan.phases[word.word] = &word;
    }
    plans_.push_back(std::move(plan));
    return true;
}

}  // namespace saggar::csvw
