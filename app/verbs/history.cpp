#include <set>

#include "app/json_out.h"
#include "app/loading.h"
#include "app/outgoing.h"
#include "app/session.h"
#include "app/verbs/verbs.h"

namespace saggar::app {
namespace {

nlohmann::json entry_as_json(const Entry& entry) {
    nlohmann::json withdrawn = nlohmann::json::array();
    for (const Withdrawal& one : entry.withdrawals)
        withdrawn.push_back({{"of", one.of.full()}, {"reason", one.reason}});
    return {{"entry", entry.number},
            {"time", entry.time},
            {"author", entry.author},
            {"verb", entry.verb},
            {"reason", entry.reason},
            {"counts", as_json(entry.counts)},
            {"withdrawals", withdrawn}};
}

// The entries in which anything about a thing was written: claims and evidence with it as subject, object or source.
std::set<std::uint64_t> entries_about(const Call& call, const Store& store, const Snapshot& graph, const std::string& key) {
    std::set<std::uint64_t> entries;
    const auto add = [&](const Spans& spans) {
        for (const Span& span : spans) {
            entries.insert(span.since);
            if (span.until) entries.insert(span.until);
        }
    };
    const EntityId id = need_thing(call, graph, key);
    const auto add_claim = [&](const ClaimWithEvidence& claim) {
        add(claim.claim.spans);
        for (const EvidenceRow& row : claim.evidence) add(row.spans);
    };
    for (const ClaimWithEvidence& claim : graph.claims_of(id)) add_claim(claim);
    for (const ClaimRef& ref : graph.claims_about(id))
        if (const auto claim = graph.claim(ref)) add_claim(*claim);
    for (const EvidenceRow& row : graph.evidence_from(id)) add(row.spans);
    // What was withdrawn is no longer in this snapshot; it is found by what the withdrawals name.
    for (const Entry& entry : graph.history(1, graph.entry())) {
        for (const Withdrawal& withdrawal : entry.withdrawals) {
            const auto place = graph.place_of(withdrawal.of);
            if (!place) continue;
            const auto before = store.snapshot(entry.number - 1);
            const auto claim = before->claim(place->claim);
            const bool about = place->claim.subject == id || (claim && claim->claim.object == id);
            if (!about) continue;
            entries.insert(entry.number);
            if (claim) add_claim(*claim);
        }
    }
    return entries;
}

class Nowhere final : public LedgerVisitor {
public:
    void entry(const Entry&) override {}
    void document(const std::string&, const std::string&) override {}
    void record(const Record&) override {}
};

// Reasons that speak of private records alone are not told.
void hide_private(const Snapshot& graph, bool with_private, std::vector<Entry>& entries) {
    if (with_private) return;
    Nowhere nowhere;
    const Outgoing outgoing(graph, nowhere, false);
    for (Entry& entry : entries) {
        if (outgoing.is_private_entry(entry.number)) entry.reason = "private";
        for (Withdrawal& one : entry.withdrawals)
            if (outgoing.keeps_back(one)) one.reason = "private";
    }
}

int run_history(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    std::vector<Entry> entries = graph.history(1, graph.entry());
    if (const std::string key = call.operand("KEY"); !key.empty()) {
        const std::set<std::uint64_t> wanted = entries_about(call, session.store, graph, key);
        std::erase_if(entries, [&](const Entry& entry) { return wanted.count(entry.number) == 0; });
    }
    const std::size_t most = call.count("--most", entries.size() + 1, 1, 1'000'000'000);
    if (entries.size() > most) entries.erase(entries.begin(), entries.end() - static_cast<std::ptrdiff_t>(most));
    hide_private(graph, call.with_private, entries);
    if (call.json) {
        nlohmann::json all = nlohmann::json::array();
        for (const Entry& entry : entries) all.push_back(entry_as_json(entry));
        print(*call.out, {{"entries", all}});
        return fine;
    }
    std::vector<std::vector<std::string>> rows = {{"entry", "time", "author", "done", "what"}};
    for (const Entry& entry : entries) {
        std::string what = entry.reason;
        const std::string counts = counts_in_words(entry.counts);
        if (!counts.empty()) what += (what.empty() ? "" : ": ") + counts;
        for (const Withdrawal& one : entry.withdrawals)
            what += "; " + one.of.brief() + (one.reason == entry.reason ? "" : " (" + one.reason + ")");
        rows.push_back({std::to_string(entry.number), entry.time, entry.author, entry.verb, what});
    }
    *call.out << table(rows, call.layout);
    return fine;
}

}  // namespace

Verb history_verb() {
    return {"history",
            "what was changed, when, by whom and why",
            {{"KEY", "only changes about this thing", false}},
            {{"--most", "N", "only the last N entries"}},
            run_history,
            ""};
}

}  // namespace saggar::app
