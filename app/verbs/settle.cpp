#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/text/rulings.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/store/ruling_order.h"
#include "kg/time/edtf_read.h"
#include "kg/weigh/weigher.h"
#include "queries/disputes_json.h"
#include "queries/privacy.h"
#include "queries/statement.h"

namespace saggar::app {
namespace {

Ruling::Decision decision_of(const Call& call) {
    const int given = call.has("--accept") + call.has("--reject") + call.has("--leave-open");
    if (given != 1)
        throw UsageFault("a ruling is one of --accept, --reject and --leave-open", "give exactly one of them");
    if (call.has("--accept")) return Ruling::Decision::accepted;
    return call.has("--reject") ? Ruling::Decision::rejected : Ruling::Decision::left_open;
}

std::string day_of(const Call& call) {
    if (!call.has("--on")) return now().substr(0, 10);
    const std::string day = call.get("--on");
    if (!time::read_edtf(day)) throw UsageFault("--on wants a date as EDTF, not \"" + day + "\"", "for example --on 2026-03-31");
    return day;
}

std::vector<ContentId> looked_at(const Call& call, const Snapshot& graph, Gatherer& gatherer, ClaimRef claim) {
    if (!call.has("--looked-at")) return to_look_at(gatherer, claim);
    std::vector<ContentId> ids;
    for (const std::string& text : call.all("--looked-at")) {
        const ContentId id = graph.need_id(text);
        const auto type = graph.place_of(id)->type;
        if (type == RecordPlace::Type::claim || type == RecordPlace::Type::ruling)
            throw UsageFault(text + " is no reading, list or argument", "see `saggar show` for the ids of a claim's readings");
        if (!graph.is_in_force(id)) throw UsageFault(text + " is not in force", "see `saggar history` for when it was withdrawn");
        ids.push_back(id);
    }
    std::sort(ids.begin(), ids.end());
    ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
    return ids;
}

// The ruling that stands says the same, having looked at the same.
bool is_on_record(const Snapshot& graph, ClaimRef claim, const Ruling& ruling) {
    const auto rulings = ranked_rulings(graph.rulings(claim));
    return std::any_of(rulings.begin(), rulings.end(), [&](const RankedRuling& one) {
        std::vector<ContentId> looked_at = one.row.looked_at;
        std::erase_if(looked_at, [&](const ContentId& id) {
            const auto place = graph.place_of(id);
            return place && place->type == RecordPlace::Type::ruling;
        });
        return !one.is_overruled && looked_at == ruling.looked_at && one.row.decision == ruling.decision &&
               one.row.reasons == ruling.reasons && one.row.decided_by == ruling.decided_by && one.row.decided_on == ruling.decided_on;
    });
}

int run_settle(Call& call) {
    Store store = open_to_write(call);
    const auto before = store.snapshot();
    const ClaimRef claim = need_claim(*before, call.operand("CLAIM"));
    if (call.get("--reasons").empty()) throw UsageFault("a ruling needs its reasons", "give them with --reasons \"…\"");
    const Weigher weigher(*before);
    Gatherer gatherer(*before, weigher.profile());
    Privacy open(*before, false);
    ChangeHead head = change_head(call, store, "settle", "");
    Ruling ruling;
    ruling.claim = before->content_of(claim);
    ruling.decision = decision_of(call);
    ruling.reasons = call.get("--reasons");
    ruling.looked_at = looked_at(call, *before, gatherer, claim);
    ruling.decided_by = head.author;
    ruling.decided_on = day_of(call);
    ruling.is_private = call.has("--private") || !open.may_show(claim);
    const std::size_t looked_at_count = ruling.looked_at.size();
    if (is_on_record(*before, claim, ruling)) {
        if (call.json) {
            print(*call.out, {{"entry", before->entry()}, {"new", false}, {"ruling", nullptr}});
        } else {
            *call.out << "nothing new: this ruling is on record\n";
        }
        return fine;
    }
    for (const ContentId& seen : rulings_seen(*before, claim, ruling.is_private)) ruling.looked_at.push_back(seen);
    std::sort(ruling.looked_at.begin(), ruling.looked_at.end());
    head.reason = ruling.is_private ? "private" : word_for(ruling.decision) + ": " + name_of_claim(*before, claim);
    Change change = store.begin(head);
    const Put put = change.put(ruling);
    const Entry entry = change.commit();
    const auto after = store.snapshot();
    Gatherer gatherer_after(*after, weigher.profile());
    Privacy privacy(*after, true);
    const auto all = standing_of(*after, gatherer_after, claim);
    const auto standing = std::find_if(all.begin(), all.end(), [&](const RulingStanding& one) { return one.ruling.id == id_of(ruling); });
    if (call.json) {
        print(*call.out, {{"entry", entry.number}, {"new", put == Put::added}, {"ruling", to_json(*standing, *after, privacy)}});
        return fine;
    }
    *call.out << fmt::format("entry {}: {}: {}; {} looked at\n", entry.number, word_for(ruling.decision),
                             statement(*after, after->claim(claim)->claim),
                             looked_at_count == 1 ? "1 record" : fmt::format("{} records", looked_at_count));
    if (const std::size_t unseen = standing->unseen.size())
        *call.out << fmt::format("    not looked at: {} of its lineage; the ruling is stale from the start\n",
                                 unseen == 1 ? "1 record" : fmt::format("{} records", unseen));
    return fine;
}

}  // namespace

Verb settle_verb() {
    return {"settle",
            "a ruling on a claim: the decision, its reasons, and the evidence it looked at",
            {{"CLAIM", "the id of a claim, or `subject relation object`"}},
            {{"--accept", "", "the claim holds"},
             {"--reject", "", "it does not"},
             {"--leave-open", "", "the evidence does not decide it"},
             {"--reasons", "TEXT", "why (required)"},
             {"--looked-at", "ID", "a reading, list or argument looked at (else everything in the claim's lineage)", true},
             {"--on", "DATE", "when it was decided (else today)"},
             {"--private", "", "keep it out of exports and of what is published"}},
            run_settle,
            "A ruling stands beside the weights and changes none of them; the losing view stays on record. It turns stale when "
            "evidence arrives that it did not see, or when what it looked at is withdrawn. A later ruling takes the place of those it has seen on the claim, "
            "and of one's own; those of other people, as after a merge, stand beside it and are a dispute where they decide differently. "
            "Take a ruling back with `saggar withdraw`."};
}

}  // namespace saggar::app
