#include "kg/graph/csr.h"

#include <algorithm>
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
    std::vector<std::uint32_t> subjects;
    bool in_order = true;
    snapshot.each_link([&](ClaimRef claim, EntityId object) {
        const auto from = static_cast<std::uint32_t>(vertex_of(claim.subject));
        const auto to = static_cast<std::uint32_t>(vertex_of(object));
        in_order = in_order && (subjects.empty() || subjects.back() <= from);
        ++out_begin_[from + std::size_t{1}];
        ++in_begin_[to + std::size_t{1}];
        subjects.push_back(from);
        out_.push_back({to, claim.relation.value, static_cast<std::uint32_t>(claim.number)});
    });
    if (!in_order) throw StoreFault("claims are not in the order of their subjects", "run `saggar check`");
    sum_up(out_begin_);
    sum_up(in_begin_);
    in_.resize(out_.size());
    std::vector<std::uint32_t> next(in_begin_.begin(), in_begin_.end() - 1);
    for (std::size_t i = 0; i < out_.size(); ++i) {
        in_[next[out_[i].other]++] = {subjects[i], out_[i].relation, out_[i].number};
    }
    // By relation, subject and number, as the store has them.
    for (std::size_t v = 0; v < vertex_count(); ++v) {
        std::stable_sort(in_.begin() + in_begin_[v], in_.begin() + in_begin_[v + 1],
                         [](const Row& a, const Row& b) { return a.relation < b.relation; });
    }
}

}  // namespace saggar
