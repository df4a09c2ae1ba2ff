// Whether the index of words fits the texts: every word of every text, of all versions and of what was withdrawn, leads to the
// record it stands in, and no word leads to a record that is not there. Words of a text that was replaced within one change
// may stay.
//
// Idea: keys are compared as hashes of 64 bits, sorted; two that differ are taken for one about once in 10^7 graphs of a
// million words. Cost: one pass over records and index, 16 bytes a word; where that is too much, several passes over shares.
#pragma once

#include <cstddef>
#include <functional>
#include <string>

namespace saggar {

struct Database;

// Calls `damaged` for each failing, in words that name no text. StoreFault where a record cannot be read. At most
// `most_words` are held at once.
void check_words(const Database& database, const std::function<void(std::string)>& damaged, std::size_t most_words = 32'000'000);

}  // namespace saggar
