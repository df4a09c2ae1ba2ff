// Foreign statements into records, by a mapping (mapping.h), in constant memory.
//
// Statements meet in six rounds; between rounds they wait in sorted runs on disk (grouping.h):
//   folds     by node: time-spans become dates, dimensions become numbers with units
//   acts      by node: attribute assignments become the statements they make
//   paths     by the node in the middle: two steps become one statement
//   subjects  by subject: class and names make its key and its record
//   objects   by object: its key
//   graphs    by named graph: what is said of the graph gives the source and the evidence of the claims in it
// What one node needs at once is bounded: more than 10 000 descriptions of a node, or arrivals at the middle of a path, are a problem.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "importers/claim_rows.h"
#include "importers/rdf/grouping.h"
#include "importers/rdf/mapping.h"
#include "importers/rdf/source_lines.h"
#include "importers/rdf/term.h"

namespace saggar::rdf {

class MappedRecords {
public:
    static constexpr std::size_t most_together = 10'000;

    // `file_source`: the source of statements whose graph names none, with its title where it is the file itself. All must outlive it.
    MappedRecords(const std::filesystem::path& folder, const Mapping& mapping, const ReadContext& context, Source file_source);

    void add(const Quad& quad, const Spot& spot);
    // All records, once. Problems and warnings (ids rdf-...) have their places in the file.
    void put(const SourceLines& lines, Sink& sink, Problems& problems);

private:
    struct Statement {
        std::string subject;
        std::string predicate;  // a property's term, or "path:N"
        std::string object;
        std::string graph;
        Spot spot;
        bool as_written = true;  // false: its object was made from other statements
    };
    // What a property or path says.
    struct Meaning {
        const std::vector<std::string>* relations = nullptr;
        std::string_view evidence;
    };
    // How often something was passed over, and where first.
    struct Passed {
        std::uint64_t count = 0;
        Spot spot;
    };
    // Before a name of evidence: a predicate of an act. Alone: the node is an act that gives its statements their evidence.
    static constexpr std::string_view said_of_act = "said:";
    struct Node;  // what the subject round knows of a node

    // A date as a person or a schema writes it: a date-time loses its clock.
    static std::string without_clock(const std::string& text);
    static std::string packed(const Statement& statement);
    static Statement unpacked(std::string_view bytes);
    Meaning meaning_of(std::string_view predicate) const;
    void pass_over(std::string why, const Spot& spot);

    void onward(const Statement& statement);
    void to_paths(const Statement& statement);
    void to_subjects(const Statement& statement);
    void fold();
    void unwrap();
    void walk_paths(Problems& problems, const SourceLines& lines);
    void name_subjects(Sink& sink, Problems& problems, const SourceLines& lines);
    void describe(Node& node, Sink& sink, Problems& problems, const SourceLines& lines);
    void say(const Node& node, const Statement& statement, Problems& problems, const SourceLines& lines);
    void name_objects(Problems& problems, const SourceLines& lines);
    void settle(const Statement& statement, const std::string& object_key, Problems& problems, const SourceLines& lines);
    void tell_graph(std::string_view graph, std::string_view field, std::string_view value);
    void put_claims(Sink& sink, Problems& problems, const SourceLines& lines);
    void warn(Problems& problems, const SourceLines& lines);
    std::string key_by_name(std::string_view term, std::string_view kind) const;
    std::string only_kind(const std::vector<std::string>& relations, bool of_subject) const;
    void note_key(const std::string& key, std::string_view node, const Spot& spot);

    const Mapping& mapping_;
    const ReadContext& context_;
    Source file_source_;
    Grouping folds_;
    Grouping acts_;
    Grouping paths_;
    Grouping subjects_;
    Grouping objects_;
    Grouping graphs_;
    SortedRuns keys_;
    std::map<std::string, Passed> passed_;
};

}  // namespace saggar::rdf
