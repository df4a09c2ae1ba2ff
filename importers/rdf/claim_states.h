// What may be said of each claim in a word, from the records that go out and no others.
//
// A survey of all records comes first; the word decides whether a claim leaves as a plain triple ("asserted") or only as a proposition with
// its status beside it. Only an unhedged, unopposed, unwithdrawn reading, or a ruling that accepted, makes a claim asserted. Cost: about
// 100 bytes a record.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "kg/model/record.h"

namespace saggar::rdf {

class ClaimStates {
public:
    // Every record that goes out, in the order of the history; `entry` wrote it.
    void note(const Record& record, std::uint64_t entry);

    // "asserted", "hedged", "disputed", "denied", "inferred", "withdrawn" or "unsupported".
    std::string_view status(const ContentId& claim) const;
    // The word of the record that has this id ("claim", "evidence", "list", "argument", "ruling"); "claim" where none is known.
    std::string_view word_of(const ContentId& id) const;
    // Whether the record stands at the end.
    bool stands(const ContentId& id) const;
    // The entry that put it last, and the one that took it back; 0: none.
    std::uint64_t last_entry(const ContentId& id) const;
    std::uint64_t withdrawn_by(const ContentId& id) const;
    // The last entry that put an entity or source: `word` and key.
    std::uint64_t last_entry(std::string_view word, const std::string& key) const;

private:
    struct Known {
        std::uint8_t word = 0;
        bool stands = false;
        bool corrected = false;
        std::uint64_t last = 0;
        std::uint64_t withdrawn = 0;
    };
    struct About {  // one reading, argument or ruling about a claim
        ContentId id;
        enum Says : std::uint8_t { plainly, hedged, against, silence, argues, accepts, rejects, leaves_open } says = plainly;
        ContentId corrects;
    };

    void put(const ContentId& id, std::uint8_t word, std::uint64_t entry);

    std::unordered_map<ContentId, Known> known_;
    std::unordered_map<ContentId, std::vector<About>> about_;
    std::unordered_map<ContentId, std::vector<ContentId>> corrected_by_;
    std::unordered_map<std::string, std::uint64_t> versions_;
};

}  // namespace saggar::rdf
