// Words for roles as people fill them in: "Designer", "possibly Designer", "Designer (attributed to)", "Designer?".
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace saggar::csvw {

// A role split into the word to look up and the hedge that qualifies it.
struct SplitRole {
    std::string word;       // folded
    std::string certainty;  // a hedge of the profile as it stands there; "possibly" for a question mark; empty: none
};

// All ways to read the words, the plainest first: as they stand; without a hedge before, behind or in brackets.
std::vector<SplitRole> split_role(std::string_view text, const std::vector<std::string>& hedges);

}  // namespace saggar::csvw
