// Who took a record down, where several people did so each on their own.
//
// One: a name and a day. Several: "Ann (2026-03-02); Bea (2026-03-05)", sorted, with the earliest day. Adding is
// commutative, associative and idempotent, so that graphs joined in any order tell the same.
#pragma once

#include <string>

namespace saggar {

// Adds another recorder to a record's own. False where nothing changes. Cost: linear in the text.
bool add_recorder(std::string& by, std::string& on, const std::string& other_by, const std::string& other_on);

}  // namespace saggar
