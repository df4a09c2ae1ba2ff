// The measurements, each run in a process of its own so that its memory is its own.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include "tests/bench/figures.h"

namespace saggar::bench {

inline constexpr std::uint64_t graph_seed = 20260101;

// Only makes the records: what the loads spend on that.
Numbers make_only(std::uint64_t claims);
// Loads into a new graph at `folder`.
Numbers load(std::uint64_t claims, const std::filesystem::path& folder);
// Takes the key-value pairs of the graph at `folder`, in order, and writes them to table files on two threads, which it
// ingests into an empty database below `scratch`.
Numbers raw_ingestion(const std::filesystem::path& folder, const std::filesystem::path& scratch);
// The same records in SQLite with the same indexes: one transaction, indexes last.
Numbers sqlite(std::uint64_t claims, const std::filesystem::path& scratch);
// Everything about one entity with its evidence, in process, against a bare scan of the same keys.
Numbers lookup(std::uint64_t claims, const std::filesystem::path& folder);
// Searches for chains and whole-graph passes, on the view and on the compact copy.
Numbers chains(std::uint64_t claims, const std::filesystem::path& folder);
// Dating pieces, and shapes that up to 2 000 limits bound.
Numbers dates(std::uint64_t claims, const std::filesystem::path& folder);
// Comparing six things of a kind, and naming a piece; not part of `all`.
Numbers shapes(std::uint64_t claims, const std::filesystem::path& folder);
// The command line from start to answer.
Numbers command(std::uint64_t claims, const std::filesystem::path& folder);

// A table of this many rows, a claim a row, into a new graph: our own columns; the same through CSVW metadata with a role
// look-up and three typed columns.
Numbers own_table(std::uint64_t rows, const std::filesystem::path& folder);
Numbers other_table(std::uint64_t rows, const std::filesystem::path& folder);

// Pictures from the command line, start to file.
Numbers pictures(std::uint64_t claims, const std::filesystem::path& folder);

// The weighing of joint questions and of a changed chance; `claims` does not matter.
Numbers weighing(std::uint64_t claims, const std::filesystem::path& folder);

}  // namespace saggar::bench
