// Where two vocabularies and two profiles differ, and how words of theirs become words of ours.
//
// A relation known here under its inverse name is turned round; one unknown here that stands for the same outside property
// as exactly one of ours becomes that one; so does a kind with the same label. A grade unknown here becomes its number. What a
// user says goes before all that. Records are rewritten word by word; since ids are made from content, ids that change
// are followed through what names them. Cost: nothing where no word is mapped, else a table of ids.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "kg/model/problem.h"
#include "kg/model/record.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/profile.h"

namespace saggar {

struct WordDifference {
    std::string what;  // "kind", "relation", "grade", "type of source", "kind of family", "hedge", "profile"
    std::string name;  // theirs
    std::string how;   // "is not known here", "becomes …", "at most one there, several here"
    bool mapped = false;
};

// What a user says of words, read from a JSON document: {"kinds": {THEIRS: OURS}, "relations": {THEIRS: OURS or an
// inverse name of ours}, "grades": {…}, "types": {…}, "hedges": {…}}.
struct WordChoice {
    std::map<std::string, std::map<std::string, std::string>> words;  // by part, then by their word
    // UsageFault where the file cannot be read or is no such document.
    static WordChoice read(const std::filesystem::path& path);
    // The same of a document's text; `name` stands in messages.
    static WordChoice parse(const std::string& text, const std::string& name);
};

class WordMap {
public:
    // `theirs` null: they told none. Ours must outlive the map.
    WordMap(const Vocabulary& ours, const Vocabulary* theirs, const Profile& our_profile, const Profile* their_profile,
            const WordChoice& choice);

    const std::vector<WordDifference>& differences() const { return differences_; }
    // Their names of kinds and relations that nothing here stands for.
    const std::vector<std::string>& unknown_kinds() const { return unknown_kinds_; }
    const std::vector<std::string>& unknown_relations() const { return unknown_relations_; }

    // A record in our words. Records must come in the order of the ledger: claims before what names them.
    Record to_ours(Record record);
    // A key in our words.
    std::string key(const std::string& theirs) const;

private:
    struct RelationWord {
        std::string name;
        bool turned = false;
    };
    void compare_kinds(const Vocabulary& theirs, const std::map<std::string, std::string>& chosen);
    void compare_relations(const Vocabulary& theirs, const std::map<std::string, std::string>& chosen);
    void compare_profiles(const Profile& ours, const Profile& theirs);
    void choose(const WordChoice& choice, const std::string& part, std::map<std::string, std::string>& into);
    std::optional<RelationWord> relation_like(const Relation& theirs, const Vocabulary& all_theirs) const;
    void rename(Entity& one) const;
    void rename(Source& one) const;
    void rename(Claim& one) const;
    void rename(Evidence& one) const;
    void rename(Listing& one) const;
    void rename(Argument& one) const;
    void rename(Ruling& one) const;
    void rename(Withdrawal& one) const;
    void follow(ContentId& id) const;
    static void change(std::string& word, const std::map<std::string, std::string>& table);

    const Vocabulary& ours_;
    std::vector<WordDifference> differences_;
    std::vector<std::string> unknown_kinds_, unknown_relations_;
    std::map<std::string, std::string> kinds_, grades_, types_, hedges_;
    std::map<std::string, double> grade_numbers_;  // of grades that become a number
    std::map<std::string, RelationWord> relations_;
    bool changes_ids_ = false;
    std::unordered_map<ContentId, ContentId> ids_;  // theirs -> ours, where they differ
};

}  // namespace saggar
