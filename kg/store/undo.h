// Taking back what entries of the history did: a load, a merge, a withdrawal.
//
// What they put and is still in force from them is withdrawn; what they withdrew and is withdrawn still is put again;
// descriptions they made and nobody has changed since go back to what they were. Nothing is deleted. Afterwards every
// question is answered as if the entries had not been made. Cost: up to three passes over the history.
#pragma once

#include <cstdint>
#include <string>

#include "kg/store/store.h"

namespace saggar {

struct Undone {
    std::size_t withdrawn = 0;
    std::size_t put_again = 0;
    std::size_t described_as_before = 0;
    std::size_t already = 0;  // put by them and taken back before
    bool anything() const { return withdrawn + put_again + described_as_before != 0; }
};

// Puts what takes back the entries `from` to `to`, both included, into a change begun on the store. UsageFault where there
// are no such entries.
Undone undo_entries(const Store& store, Change& change, std::uint64_t from, std::uint64_t to, const std::string& reason);

}  // namespace saggar
