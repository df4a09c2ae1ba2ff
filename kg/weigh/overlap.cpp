#include "kg/weigh/overlap.h"

namespace saggar {

std::optional<time::Span> days_of_text(const std::string& edtf, int about_years) {
    if (edtf.empty()) return std::nullopt;
    time::Conventions conventions;
    conventions.about = about_years;
    const auto read = time::read_span(edtf, conventions);
    return read ? std::optional(*read) : std::nullopt;
}

bool scopes_overlap(const ClaimRow& a, const ClaimRow& b, int about_years) {
    if (!a.scope.empty() && !b.scope.empty() && a.scope != b.scope) return false;
    const auto days_a = days_of_text(a.when, about_years), days_b = days_of_text(b.when, about_years);
    return !days_a || !days_b || time::overlap(*days_a, *days_b);
}

bool same_object(const ClaimRow& a, const ClaimRow& b) {
    return a.object_type == b.object_type && a.object == b.object && a.object_text == b.object_text && a.object_unit == b.object_unit;
}

bool objects_exclude(const ClaimRow& a, int about_a, const ClaimRow& b, int about_b) {
    if (same_object(a, b)) return false;
    if (a.object_type != Value::Type::date || b.object_type != Value::Type::date) return true;
    const auto days_a = days_of_text(a.object_text, about_a), days_b = days_of_text(b.object_text, about_b);
    return days_a && days_b && time::disjoint(*days_a, *days_b);
}

bool list_covers(const ListingRow& list, const ClaimRow& claim, int about_years) {
    if (!list.scope.empty() && list.scope != claim.scope) return false;
    if (list.when.empty()) return true;
    const auto listed = days_of_text(list.when, about_years), claimed = days_of_text(claim.when, about_years);
    return listed && claimed && listed->earliest <= claimed->earliest && claimed->latest <= listed->latest;
}

}  // namespace saggar
