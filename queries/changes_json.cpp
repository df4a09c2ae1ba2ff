#include "queries/changes_json.h"

#include <nlohmann/json.hpp>

#include "queries/privacy.h"
#include "queries/statement.h"

namespace saggar {

namespace {

using nlohmann::json;

json masses_of(const std::optional<Masses>& masses) {
    if (!masses) return nullptr;
    return {{"for_only", masses->for_only}, {"against_only", masses->against_only}, {"both", masses->both}, {"neither", masses->neither}};
}

json cause_of(const ChangeCause& cause, const Snapshot& after, Privacy& privacy) {
    json out = {{"what", word_for(cause.what)}};
    if (!cause.record.empty()) out["record"] = cause.record.full();
    if (cause.source) out["source"] = after.key_of(cause.source);
    if (cause.entry) out["entry"] = cause.entry;
    if (!cause.reason.empty()) out["reason"] = cause.record.empty() || privacy.may_tell(cause.record) ? cause.reason : "private";
    return out;
}

}  // namespace

std::string word_for(ChangeCause::What what) {
    switch (what) {
        case ChangeCause::What::added:
            return "added";
        case ChangeCause::What::withdrawn:
            return "withdrawn";
        case ChangeCause::What::joined:
            return "joined";
        case ChangeCause::What::left:
            return "left";
        case ChangeCause::What::described:
            return "described";
        case ChangeCause::What::document:
            return "document";
    }
    return {};
}

json to_json(const ChangesAnswer& answer, const Snapshot& before, const Snapshot& after, bool with_private) {
    Privacy privacy_before(before, with_private), privacy_after(after, with_private);
    json claims = json::array();
    std::size_t hidden = 0;
    for (const ChangedClaim& one : answer.claims) {
        const Snapshot& graph = one.after ? after : before;
        Privacy& privacy = one.after ? privacy_after : privacy_before;
        const auto row = graph.claim(one.claim);
        if (!row || !privacy.may_show(*row)) {
            ++hidden;
            continue;
        }
        json causes = json::array();
        for (const ChangeCause& cause : one.causes)
            if (!cause.source || privacy_after.may_show(cause.source)) causes.push_back(cause_of(cause, after, privacy_after));
        claims.push_back({{"claim", row->claim.id.full()},
                          {"statement", statement(graph, row->claim)},
                          {"before", masses_of(one.before)},
                          {"after", masses_of(one.after)},
                          {"support_before", one.before ? json(one.support_before) : json(nullptr)},
                          {"support_after", one.after ? json(one.support_after) : json(nullptr)},
                          {"causes", std::move(causes)}});
    }
    return {{"from", answer.from}, {"to", answer.to}, {"claims", std::move(claims)}, {"hidden", hidden}, {"weighed", answer.reached}};
}

}  // namespace saggar
