// The sources of a case: looked up once, with those they were copied from and the families they belong to.
//
// Circles of copying are refused on load; where an older graph holds one, the link that closes it is left out.
// Cost: one read for a source, remembered; families need one pass over all sources, made when the first is met.
#pragma once

#include <map>
#include <string>
#include <unordered_map>
#include <vector>

#include "kg/weigh/case.h"

namespace saggar {

class Profile;
class Snapshot;

// Remembers terms over many questions. One thread; keeps references to both.
class SourceBook {
public:
    SourceBook(const Snapshot& snapshot, const Profile& profile) : snapshot_(snapshot), profile_(profile) {}

    // The place of the source in the case; adds it, and everything it was copied from, where it is new there.
    CaseIndex place(Case& question, EntityId source);
    // Fills in the families of all sources placed. Call once, last.
    void add_families(Case& question);

private:
    struct Family {
        std::string kind;
        double dependence = 0;
        bool unknown = true;
        std::vector<std::pair<EntityId, double>> members;  // with their reliability
    };
    const SourceTerms& terms(EntityId source);
    const std::map<std::string, Family>& families();

    const Snapshot& snapshot_;
    const Profile& profile_;
    std::unordered_map<EntityId, SourceTerms> terms_;
    std::map<std::string, Family> families_;
    bool families_known_ = false;
};

// Takes out of `question` the copy links that close a circle, in the order of keys.
void cut_copying_circles(Case& question);

}  // namespace saggar
