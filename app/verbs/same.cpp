#include <fmt/format.h>

#include <algorithm>

#include "app/json_out.h"
#include "app/session.h"
#include "app/verbs/verbs.h"
#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/weigh/aliases.h"
#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"
#include "queries/likely_same.h"
#include "queries/privacy.h"
#include "queries/rulings.h"

namespace saggar::app {
namespace {

// Names and numbers are joined by ", ".
std::string in_a_row(const std::vector<std::string>& words) {
    std::string out;
    for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
    return out;
}

int run_suggest(Call& call) {
    const Session session = open_to_read(call);
    const Snapshot& graph = *session.snapshot;
    LikelySameQuestion question;
    question.kind = call.get("--kind");
    if (!question.kind.empty() && !graph.vocabulary().find_kind(question.kind))
        throw UsageFault("there is no kind " + question.kind + Vocabulary::suggestion(graph.vocabulary().nearest_kind(question.kind)),
                         "see `saggar show vocabulary`");
    question.most = call.count("--most", 20, 1, 100'000);
    question.with_private = call.with_private;
    const auto found = likely_same(graph, question);
    if (call.json) {
        nlohmann::json pairs = nlohmann::json::array();
        for (const LikelySame& pair : found)
            pairs.push_back({{"one", graph.key_of(pair.one)}, {"other", graph.key_of(pair.other)}, {"score", pair.score},
                             {"names", pair.names}, {"values", pair.values}, {"neighbours", pair.neighbours},
                             {"all_neighbours", pair.all_neighbours}, {"differ", pair.differ}});
        print(*call.out, {{"pairs", pairs}, {"entry", graph.entry()}});
        return fine;
    }
    if (found.empty()) *call.out << "nothing looks like two names of one thing\n";
    for (const LikelySame& pair : found) {
        *call.out << fmt::format("{:.2f}  ", pair.score)
                  << wrap(graph.label_of(pair.one) + "  and  " + graph.label_of(pair.other), call.layout.width, 6) << "  "
                  << call.layout.faint(graph.key_of(pair.one) + " " + graph.key_of(pair.other)) << '\n';
        std::string why;
        const auto add = [&](const std::string& part) { why += (why.empty() ? "" : "; ") + part; };
        if (!pair.names.empty()) add("names: " + in_a_row(pair.names));
        if (!pair.values.empty()) add("both " + in_a_row(pair.values));
        if (pair.neighbours) add(fmt::format("{} of {} neighbours shared", pair.neighbours, pair.all_neighbours));
        if (!pair.differ.empty()) add("but they differ in: " + in_a_row(pair.differ));
        *call.out << "      " << wrap(why, call.layout.width, 8) << '\n';
    }
    return fine;
}

const Relation& identity_relation(const Vocabulary& vocabulary) {
    for (const Relation& relation : vocabulary.relations())
        if (relation.identity) return relation;
    throw UsageFault("the vocabulary has no relation for two names of one thing", "add a relation with \"identity\": true");
}

Evidence evidence_of(const Call& call, const Snapshot& graph, const Profile& profile, const ContentId& claim, const std::string& author) {
    Evidence evidence;
    evidence.claim = claim;
    evidence.source = call.get("--source");
    if (!graph.find(evidence.source))
        throw UsageFault("the graph knows no " + evidence.source, "describe the source first, or name one that is there");
    evidence.at = call.get("--at");
    evidence.quote = call.get("--quote");
    evidence.certainty = call.get("--certainty");
    if (!profile.certainty_of(evidence.certainty))
        throw UsageFault("\"" + evidence.certainty + "\" is no certainty", "give a hedge word of the profile or a number 0..1");
    evidence.recorded_by = author;
    return evidence;
}

// An identity that is accepted already is not accepted over again.
std::vector<ContentId> rulings_to_overrule(const Snapshot& graph, ClaimRef identity, bool with_private) {
    return is_accepted(graph, identity) ? std::vector<ContentId>{} : rulings_seen(graph, identity, with_private);
}

int run_same(Call& call) {
    if (call.has("--suggest")) return run_suggest(call);
    Store store = open_to_write(call);
    const auto before = store.snapshot();
    std::string one = call.operand("A"), other = call.operand("B");
    if (one.empty() || other.empty()) throw UsageFault("which two are one?", "name two things, or ask with --suggest");
    before->need(one);
    before->need(other);
    if (one == other) throw UsageFault(one + " is one thing already", "name two things");
    if (call.get("--reasons").empty()) throw UsageFault("an identity needs its reasons", "give them with --reasons \"…\"");
    if (other < one) std::swap(one, other);  // the same claim whichever way it is said
    const Relation& relation = identity_relation(before->vocabulary());
    Claim claim{one, relation.name, {Value::Type::entity, other, ""}, "", "", false};
    Privacy open(*before, false);
    claim.is_private = call.has("--private") || !open.may_show(before->need(one)) || !open.may_show(before->need(other));
    const Weigher weigher(*before);
    Gatherer gatherer(*before, weigher.profile());
    ChangeHead head = change_head(call, store, "same", claim.is_private ? "private" : one + " and " + other);
    const auto known = before->find_claim(claim);
    Ruling ruling{id_of(claim), Ruling::Decision::accepted, call.get("--reasons"), {}, head.author, now().substr(0, 10), claim.is_private};
    if (known) ruling.looked_at = to_look_at(gatherer, *known);
    const std::vector<ContentId> overruled = known ? rulings_to_overrule(*before, *known, ruling.is_private) : std::vector<ContentId>{};
    if (!call.has("--source") && ruling.looked_at.empty())
        throw UsageFault("nobody has said that " + one + " and " + other + " are one", "name who says so with --source");
    Change change = store.begin(head);
    change.put(claim);
    if (call.has("--source")) {
        Evidence evidence = evidence_of(call, *before, weigher.profile(), id_of(claim), head.author);
        evidence.is_private = claim.is_private;
        change.put(evidence);
        ruling.looked_at.push_back(id_of(evidence));
    }
    ruling.looked_at.insert(ruling.looked_at.end(), overruled.begin(), overruled.end());
    std::sort(ruling.looked_at.begin(), ruling.looked_at.end());
    ruling.looked_at.erase(std::unique(ruling.looked_at.begin(), ruling.looked_at.end()), ruling.looked_at.end());
    const Put put = change.put(ruling);
    const Entry entry = change.commit();
    if (call.json) {
        print(*call.out, {{"entry", entry.number}, {"new", put == Put::added}, {"claim", id_of(claim).full()}, {"ruling", id_of(ruling).full()}});
    } else if (put != Put::added) {
        *call.out << "nothing new: this is on record\n";
    } else {
        *call.out << fmt::format("entry {}: {} and {} count as one\n", entry.number, one, other)
                  << fmt::format("    part them again with: saggar withdraw ruling:{} --reason …\n", id_of(ruling).brief());
    }
    return fine;
}

}  // namespace

Verb same_verb() {
    return {"same",
            "record that two names are one thing, or ask which may be",
            {{"A", "key of the one", false}, {"B", "key of the other", false}},
            {{"--source", "KEY", "who says so"},
             {"--at", "TEXT", "where in the source"},
             {"--quote", "TEXT", "its words"},
             {"--certainty", "TEXT", "the author's own: a hedge word or a number 0..1"},
             {"--reasons", "TEXT", "why they count as one (required)"},
             {"--private", "", "keep it out of exports and of what is published"},
             {"--suggest", "", "propose pairs instead; nothing is changed"},
             {"--kind", "KIND", "with --suggest: only things of this kind"},
             {"--most", "N", "with --suggest: how many (20)"}},
            run_same,
            "The identity is a claim with evidence and a ruling that accepts it; its weight enters every answer that goes by it. "
            "Withdrawing the ruling parts the two again exactly as they were."};
}

}  // namespace saggar::app
