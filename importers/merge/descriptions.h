// Two descriptions of one thing, by two people, as one.
//
// A field only one of them fills is taken. Where both fill it and differ, the histories decide: who still says what the
// other one said earlier has been overtaken. Where neither has, ours stays and the difference is reported; nothing of
// theirs is thrown away where there is room for it (a label becomes a further name, a remark is added). Lists are united.
// Cost: the versions on record.
#pragma once

#include <string>
#include <vector>

#include "kg/model/record.h"

namespace saggar {

struct FieldDifference {
    std::string key;
    std::string field;
    std::string ours;    // stays
    std::string theirs;
    bool operator==(const FieldDifference&) const = default;
};

// The versions of each, the oldest first; the last one of each is what holds now. Neither may be empty.
Entity merged(const std::vector<Entity>& ours, const std::vector<Entity>& theirs, std::vector<FieldDifference>& differences);
Source merged(const std::vector<Source>& ours, const std::vector<Source>& theirs, std::vector<FieldDifference>& differences);

}  // namespace saggar
