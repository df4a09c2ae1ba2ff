// What a heading of somebody's table most likely says of the things its rows speak of.
//
// The words are data: the part "headings" of a vocabulary names, for a relation, an inverse name, a kind or a field
// ("field:label"), the words people write over such a column, in any language. Words of the built-in vocabulary count too
// where this one has the name. A heading that is the very name of a relation or field is certain; everything else is a guess
// and says so: a heading word, a word or the start of a relation's name, the only relation that leads to the kind a heading
// names, a near spelling. Cost: reading the document; then a pass over its words for each heading.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "kg/model/vocabulary.h"

namespace saggar::csvw {

struct HeadingMeaning {
    std::string property;     // "field:label", "relation:made-by"; empty: nothing is near, or several things are
    std::string object_kind;  // of a relation to things; empty: to values
    std::string guessed;      // how: "by the word \"maker\""; empty: the heading is the very name
    std::string remark;       // what else to tell a person of this heading
    std::string unit;         // of a relation to numbers: from brackets in the heading
    bool to_value = false;    // a date or text, which is read as it is written
    bool to_date = false;
};

// The vocabulary must outlive it.
class Headings {
public:
    explicit Headings(const Vocabulary& vocabulary);

    // For rows that speak of things of this kind.
    HeadingMeaning meaning_of(std::string_view heading, const std::string& kind) const;
    // The relation to a date that the word before a date speaks of ("introduced"); empty where none is near.
    std::string dated_by(std::string_view word, const std::string& kind) const;
    // The kind a heading or a file's name speaks of: "Shape", "shape_id", "Potteries".
    std::optional<std::string> kind_of(std::string_view words) const;
    // Whether the heading is that of a column with roles of people.
    static bool is_role(std::string_view heading);
    // Whether the heading ends as those of numbers and keys do: "object_id", "No."
    static bool is_number_word(std::string_view heading);

private:
    struct Word {
        std::string word;
        std::string name;
    };
    void read_words(const std::string& document, std::vector<Word>& words);
    std::optional<HeadingMeaning> by_words(const std::vector<Word>& words, const std::string& heading, const std::string& kind,
                                           std::string& said_of_others) const;
    std::optional<HeadingMeaning> by_relation_name(const std::string& heading, const std::string& kind) const;
    bool can_be_said(std::string_view name, const std::string& kind) const;
    HeadingMeaning relation_meaning(const std::string& name, const std::string& words, std::string guessed) const;
    std::vector<std::string> leading_to(const std::string& kind, const std::string& object_kind) const;

    const Vocabulary& vocabulary_;
    std::vector<Word> words_;                               // of this vocabulary, in the order of the document
    std::vector<Word> built_in_words_;                      // for what has the same name here
    std::map<std::string, std::vector<std::string>> to_;    // by relation: kinds of objects in the document's order
};

}  // namespace saggar::csvw
