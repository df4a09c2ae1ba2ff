#include "kg/graph/csr.h"

#include <limits>

#include "kg/model/fault.h"
#include "kg/store/snapshot.h"

namespace saggar {

namespace {

constexpr std::uint64_t most = std::numeric_limits<std::uint32_t>::max();

// Turns counts into beginnings: begin[v + 1] holds the count of v on entry.
void sum_up(std::vector<std::uint32_t>& begin) {
    for (std::size_t v = 1; v < begin.size(); ++v) begin[v] += begin[v - 1];
}

}  // namespace

GraphCsr::GraphCsr(const Snapshot& snapshot)
    : BoostGraph(static_cast<std::size_t>(snapshot.entity_bound() > 0 ? snapshot.entity_bound() - 1 : 0)),
      entry_(snapshot.entry()) {
    if (vertex_count() >= most || snapshot.claim_bound() >= most) {
        throw LimitFault("the graph is too large for a copy in memory (2^32 entities or claims)",
                         "ask a question that begins at one entity");
    }
    out_begin_.assign(vertex_count() + 1, 0);
    in_begin_.assign(vertex_count() + 1, 0);
    std::vector<Row> rows;
    bool in_order = true;
    snapshot.each_link([&](ClaimRef claim, EntityId object) {
        Row row;
        row.from = static_cast<std::uint32_t>(vertex_of(claim.subject));
        row.to = static_cast<std::uint32_t>(vertex_of(object));
        row.relation = claim.relation.value;
        row.number = static_cast<std::uint32_t>(claim.number);
        in_order = in_order && (rows.empty() || rows.back().from <= row.from);
        ++out_begin_[row.from + std::size_t{1}];
        ++in_begin_[row.to + std::size_t{1}];
        rows.push_back(row);
    });
    sum_up(out_begin_);
    sum_up(in_begin_);
    if (in_order) {
        out_ = std::move(rows);
    } else {
        out_.resize(rows.size());
        std::vector<std::uint32_t> next(out_begin_.begin(), out_begin_.end() - 1);
        for (const Row& row : rows) out_[next[row.from]++] = row;
    }
    in_.resize(out_.size());
    std::vector<std::uint32_t> next(in_begin_.begin(), in_begin_.end() - 1);
    for (std::size_t i = 0; i < out_.size(); ++i) in_[next[out_[i].to]++] = static_cast<std::uint32_t>(i);
}

}  // namespace saggar
