#include "kg/store/ruling_order.h"

#include <algorithm>
#include <tuple>

namespace saggar {
namespace {

// Accepting is the least cautious.
int caution(const RulingRow& row) { return row.decision == Ruling::Decision::accepted ? 1 : 0; }

bool has_seen(const RulingRow& row, const RulingRow& other) {
    return std::find(row.looked_at.begin(), row.looked_at.end(), other.id) != row.looked_at.end();
}

// Of one person, on one day in one graph, the one that was put later is the later one.
bool overrules(const RulingRow& row, const RulingRow& other) {
    if (has_seen(row, other)) return true;
    if (row.decided_by != other.decided_by || has_seen(other, row)) return false;
    return row.decided_on != other.decided_on ? row.decided_on > other.decided_on : row.number > other.number;
}

}  // namespace

std::vector<RankedRuling> ranked_rulings(std::vector<RulingRow> rows) {
    std::vector<RankedRuling> ranked;
    for (RulingRow& row : rows) {
        RankedRuling one;
        one.row = std::move(row);
        ranked.push_back(std::move(one));
    }
    for (RankedRuling& one : ranked)
        one.is_overruled = std::any_of(ranked.begin(), ranked.end(), [&](const RankedRuling& other) {
            return &other != &one && overrules(other.row, one.row);
        });
    std::sort(ranked.begin(), ranked.end(), [](const RankedRuling& a, const RankedRuling& b) {
        if (a.is_overruled != b.is_overruled) return b.is_overruled;
        if (a.row.decided_on != b.row.decided_on) return a.row.decided_on > b.row.decided_on;
        if (a.is_overruled) return a.row.number > b.row.number;
        return std::make_tuple(caution(a.row), a.row.id) < std::make_tuple(caution(b.row), b.row.id);
    });
    return ranked;
}

bool rulings_differ(const std::vector<RankedRuling>& rulings) {
    return std::any_of(rulings.begin(), rulings.end(), [&](const RankedRuling& one) {
        return !one.is_overruled && one.row.decision != rulings.front().row.decision;
    });
}

}  // namespace saggar
