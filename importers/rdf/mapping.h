// What the properties and classes of a foreign RDF file mean to us: a mapping document (JSON).
//
//   {"mapping": NAME, "version": TEXT, "remark": TEXT,
//    "prefixes":  {PREFIX: IRI},
//    "types":     [PROPERTY...]              properties that name a thing's class; rdf:type always does
//    "kinds":     {CLASS: KIND}              the first that a thing has, in the document's order; "": a class of no thing of ours
//    "keys":      {IRI-START: KIND}          things whose IRI starts so; the rest of the IRI is the name
//    "fields":    {PROPERTY: FIELD}          label, also, remark, image, identifier, or a column of our sources table
//    "relations": {PROPERTY: RELATION or [RELATION...]}      the first that allows the kinds of both ends; inverse names too
//    "paths":     [{"steps": [PROPERTY, PROPERTY], "relation": ... or "evidence": NAME}]   "^" before a step: read backwards
//    "times":     {"of": [...], "begin": [...], "end": [...], "from": [...], "until": [...]}  nodes that become a date:
//                 begin and end: some time between; from and until: throughout
//    "amounts":   {"of": [...], "value": [...], "unit": [...]}                                nodes that become a number
//    "statements": {"subject": [...], "property": [...], "object": [...], and the names of "evidence": [...]}  nodes that say a statement,
//                 such as an attribute assignment of CIDOC CRM, and what is said of such a node gives its evidence
//    "evidence":  {"source" | "at" | "quote" | "certainty" | "recorded_by" | "recorded_on" | "stance": [PROPERTY...]}   said of a graph
//    "unmapped":  "warn" | "pass"}
//
// A property may stand in several parts; each takes what fits it. The built-in mapping is default-mapping.json.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "kg/model/json_tree.h"
#include "kg/model/problem.h"
#include "kg/model/vocabulary.h"

namespace saggar::rdf {

class Mapping {
public:
    enum class Fold : std::uint8_t { none, begin, end, from, until, value, unit };

    struct PathStep {
        std::uint32_t path = 0;
        bool last = false;       // the second step
        bool backwards = false;
    };
    // All that a property is used for.
    struct Use {
        bool type = false;
        bool folds = false;  // its object may be a node that becomes a date or a number
        Fold fold = Fold::none;
        std::string field;
        std::string evidence;
        std::string role;  // what it says of a node that is a statement: subject, property, object or a name of evidence
        std::vector<std::string> relations;
        std::vector<PathStep> steps;
    };
    struct Path {
        std::vector<std::string> relations;
        std::string evidence;
    };

    // Nothing where an error was found (ids mapping-...). `file` is the name shown in problems. With `lenient`, kinds and relations that
    // the vocabulary lacks are passed over.
    static std::optional<Mapping> read(std::string_view text, std::string_view file, const Vocabulary& vocabulary, bool lenient,
                                       Problems& problems);
    static std::string_view default_document();

    // By term <iri>; null where the mapping does not know the property.
    const Use* use_of(std::string_view property) const;
    const Path& path(std::uint32_t index) const { return paths_[index]; }
    // The kind and rank (smaller wins) of a class; an empty kind where the mapping names the class and gives it none.
    std::optional<std::pair<std::size_t, std::string_view>> kind_of_class(std::string_view term) const;
    // The kind of a thing by its IRI, and the rest of the IRI; nothing where no start fits. The longest start wins.
    std::optional<std::pair<std::string_view, std::string_view>> kind_of_iri(std::string_view iri) const;
    bool warns() const { return warns_; }

private:
    friend class MappingReader;
    std::unordered_map<std::string, Use> uses_;
    std::unordered_map<std::string, std::pair<std::size_t, std::string>> kinds_;
    std::vector<std::pair<std::string, std::string>> starts_;
    std::vector<Path> paths_;
    bool warns_ = true;
};

}  // namespace saggar::rdf
