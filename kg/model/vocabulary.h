// The vocabulary: which kinds of things there are and how they may be related.
//
// Idea: what can be said is data, not code. A vocabulary is a JSON document stored with the graph; the one for tableware
// is built in, and pressed glass or silver needs another document and no new code. The document:
//
//   {"vocabulary": NAME, "version": TEXT, "language": BCP47, "remark": TEXT,
//    "kinds":     {KIND: {"label", "plural", "class", "remark"}},
//    "relations": {RELATION: {"from": [KIND...], "to": [KIND or VALUE...], "inverse": NAME, "inverse-label": TEXT,
//                             "at-most-one": BOOL, "symmetric": BOOL, "identity": BOOL,
//                             "label": TEXT, "property": CURIE, "remark": TEXT}},
//    "headings": {NAME: [WORD...]}, "time": {...}, "rules": [...]}
//
// VALUE is date, text or number; "*" in from or to means any kind. "headings" (importers/csvw/headings.h), "time" and
// "rules" are read by other rooms. Names of kinds and relations are a-z, 0-9 and '-', a letter first.
// Cost: look-ups are O(1); reading is linear in the document.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "kg/model/problem.h"
#include "kg/model/record.h"

namespace saggar {

struct Kind {
    std::string name;
    std::string label;     // one of them
    std::string plural;    // several of them
    std::string category;  // "class" of the document: what it is in CIDOC CRM, as a CURIE
    std::string remark;
};

// Counts relations in the order of their names, from 0. It holds within one vocabulary document only: a graph that
// lives longer than its vocabulary keeps relations by name.
using RelationIndex = std::uint32_t;

struct Relation {
    std::string name;
    std::vector<std::string> from;      // kinds, sorted; empty with any_from
    std::vector<std::string> to;        // kinds, sorted; may be empty with any_to or value types
    bool any_from = false;              // "*" in the document
    bool any_to = false;                // "*": any kind, but no value unless it is named too
    bool to_text = false;
    bool to_number = false;
    bool to_date = false;
    std::string inverse;                // name read from object to subject; empty: none, or symmetric
    std::string inverse_label;          // words for it; empty where the document gives none
    bool at_most_one = false;           // a subject has at most one object (in one scope and time)
    bool symmetric = false;
    bool identity = false;              // subject and object are one thing
    std::string label;                  // words between subject and object
    std::string property;               // what it is in an outside ontology, as a CURIE
    std::string remark;

    bool takes_subject(std::string_view kind) const;
    bool takes_object(std::string_view kind) const;
    // Whether the object may be a value of this type; for `entity`, whether it may be an entity at all.
    bool takes_value(Value::Type type) const;
    // "maker, person or text": what the object may be, for messages.
    std::string objects_in_words() const;
    std::string subjects_in_words() const;
};

// A relation as somebody named it: forwards, or by its inverse name.
struct RelationUse {
    RelationIndex relation = 0;
    bool inverse = false;
    bool operator==(const RelationUse&) const = default;
};

// A value type; reading threads may share one.
class Vocabulary {
public:
    // Reads a document. Nothing where an error was found; `file` is the name shown in problems.
    static std::optional<Vocabulary> parse(std::string_view text, Problems& problems,
                                           std::string_view file = "vocabulary");
    // The built-in vocabulary of tableware.
    static const Vocabulary& standard();

    const std::string& name() const { return name_; }
    const std::string& version() const { return version_; }
    const std::string& language() const { return language_; }
    // The document as it was read, byte for byte.
    const std::string& document() const { return document_; }
    // The parts read by other rooms, as JSON text; "{}" and "[]" where the document has none.
    const std::string& time_document() const { return time_; }
    const std::string& rules_document() const { return rules_; }

    // Sorted by name.
    const std::vector<Kind>& kinds() const { return kinds_; }
    const std::vector<Relation>& relations() const { return relations_; }

    const Kind* find_kind(std::string_view name) const;
    // By its name only; null where there is none.
    const Relation* find_relation(std::string_view name) const;
    // By its name or its inverse name.
    std::optional<RelationUse> find_use(std::string_view name) const;
    const Relation& relation(RelationIndex index) const { return relations_.at(index); }

    // The known name nearest to a mistyped one; nothing where none is near. Relations include inverse names.
    std::optional<std::string> nearest_kind(std::string_view name) const;
    std::optional<std::string> nearest_relation(std::string_view name) const;
    // " (did you mean \"made-by\"?)" or nothing, to be put behind a message.
    static std::string suggestion(const std::optional<std::string>& nearest);

private:
    friend class VocabularyReader;
    struct TextHash {
        using is_transparent = void;
        std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
    };
    template <class T>
    using ByName = std::unordered_map<std::string, T, TextHash, std::equal_to<>>;

    // Fills the look-up tables from kinds_ and relations_, which it sorts first.
    void index();

    std::string name_;
    std::string version_;
    std::string language_;
    std::string document_;
    std::string time_ = "{}";
    std::string rules_ = "[]";
    std::vector<Kind> kinds_;
    std::vector<Relation> relations_;
    ByName<std::uint32_t> kind_by_name_;
    ByName<RelationUse> use_by_name_;
};

}  // namespace saggar
