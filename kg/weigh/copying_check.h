// Finds circles of copying before they enter the graph: a source cannot, by way of others, be copied from itself.
//
// Cost: one walk along the copies of each source that names any.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "kg/model/record.h"

namespace saggar {

class Snapshot;

// Knows the graph and the sources noted since. One thread; the snapshot must outlive it.
class CopyingCheck {
public:
    explicit CopyingCheck(const Snapshot& snapshot) : snapshot_(snapshot) {}

    // Notes the source; where it closes a circle, the keys on it from the source back to itself, else nothing.
    std::vector<std::string> note(const Source& source);

private:
    std::vector<std::string> copied_from(const std::string& key) const;

    const Snapshot& snapshot_;
    std::map<std::string, std::vector<std::string>> noted_;
};

}  // namespace saggar
