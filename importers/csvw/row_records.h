// From the rows of an annotated table to records, by what the metadata says of each column.
//
// aboutUrl gives the subject's key, propertyUrl what the cell says of it, valueUrl or the cell itself the object:
//   relation:NAME   a claim with that relation (or inverse name) of the vocabulary, and the row's source as its
//   evidence field:NAME      a field of the subject: label, also, remark, image, identifier, private of an entity; any
//   column of our
//                   table `sources` of a source
//   csl:NAME        a further field of a source, by its CSL name
// URLs become keys: "person:{name}" gives person: and the slug of the name. In a list (separator) valueUrl is expanded
// for each value. A claim's evidence quotes the cell as written and names the column, unless saggar:quote and saggar:at
// say otherwise.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "importers/claim_rows.h"
#include "importers/csvw/annotated_rows.h"
#include "importers/csvw/text_template.h"

namespace saggar::csvw {

// What property URLs start with.
inline constexpr std::string_view relation_prefix = "relation:";
inline constexpr std::string_view field_prefix = "field:";
inline constexpr std::string_view csl_prefix = "csl:";

inline bool starts(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

class RowRecords {
public:
    RowRecords(const AnnotatedRows& rows, const ReadContext& context, Sink& sink, Problems& problems,
               std::string default_source);

    // Works out what to do with each column. False where the metadata cannot be followed (problems csvw-...).
    bool plan();
    // Puts the records of the present row.
    void put_row();

private:
    // Texts of evidence and the like, by their annotation.
    enum Own : std::size_t {
        source,
        at,
        quote,
        certainty,
        stance,
        scope,
        when,
        remark,
        recorded_by,
        recorded_on,
        value,
        role,
        label,
        own_count
    };

    // What a look-up gave for the words of a cell.
    struct FoundRole {
        const std::vector<const RoleWord*>* words = nullptr;  // null: nothing
        std::string hedge;
    };

    struct Plan {
        std::size_t column = 0;
        std::optional<std::string> property;  // where it is the same for all rows
        std::optional<TextTemplate> own[own_count];
        std::vector<std::size_t> asked;  // columns that valueUrl names; none where it names anything else
        std::string unit;
        bool lenient = false;
        bool pass_other_roles = false;
        std::unordered_map<std::string, std::vector<const RoleWord*>> roles;  // by folded word
        std::unordered_map<std::string, FoundRole> found_roles;               // by the words of a cell, as they are met
        std::unordered_map<std::string, const RoleWord*> phases;
    };
    // What a claim of the present row needs besides subject and object.
    struct Saying {
        std::string relation;
        std::string certainty;
        std::string stance;
    };

    bool plan_column(std::size_t index);
    bool wrong(std::size_t column, std::string id, std::string message, std::string next);
    std::optional<TemplateValue> variable(std::string_view name, std::size_t column,
                                          const std::string_view* element) const;
    std::string expand(const UriTemplate& url, std::size_t column, const std::string_view* element) const;
    std::optional<std::string> key_of(std::string_view text, std::size_t column);
    std::optional<std::string> subject_of(std::size_t column);
    struct ObjectText {
        std::string text;   // a key or a value
        std::string words;  // for the label of a thing, where the metadata asks for one
    };
    bool all_null(const Plan& plan) const;
    std::vector<ObjectText> values_of(const Plan& plan, std::string_view property);
    void label_object(const ObjectText& object, std::size_t column);
    std::vector<Saying> sayings_of(Plan& plan, const std::string& property);
    const FoundRole& look_up_role(Plan& plan, const std::string& words) const;
    void put_cell(Plan& plan);
    void set_field(const Plan& plan, const std::string& subject, std::string_view field, const std::string& text);
    void put_claim(const Plan& plan, const std::string& subject, const std::string& object, const Saying& saying);
    void put_phases(const Plan& plan, const std::string& subject, const std::string& text, const std::string& property);
    std::string own_text(const Plan& plan, Own what) const;
    // The record of the present row, made where there is none; its problems are told at the column that spoke of it first.
    Entity& entity(const std::string& key, std::size_t column);
    Source& source_record(const std::string& key, std::size_t column);

    const AnnotatedRows& rows_;
    const ReadContext& context_;
    Sink& sink_;
    Problems& problems_;
    std::string default_source_;
    std::vector<Plan> plans_;
    std::vector<std::pair<const UriTemplate*, std::string>> subjects_;  // of the present row, by template
    std::vector<Entity> entities_;                                      // of the present row
    std::vector<Source> sources_;
    std::vector<std::size_t> entity_columns_;
    std::vector<std::size_t> source_columns_;
    std::vector<std::pair<Record, std::size_t>> claims_;    // with the column, in order
    std::unordered_map<std::string, std::string> slugged_;  // key made from words -> the words
    std::unordered_map<std::string, std::string> labels_;   // of objects, as they were met first
};

}  // namespace saggar::csvw
