// The store beside a plain twin of maps, driven by the same random changes: what is in force, as of every entry, must agree,
// whether changes went through batches or table files; the graph stays whole; replaying its ledger gives it again.
#include <rapidcheck.h>

#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "kg/model/fault.h"
#include "kg/model/record_json.h"
#include "kg/store/check.h"
#include "kg/store/ledger.h"
#include "kg/store/store.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using saggar::testing::TemporaryFolder;

namespace {

struct TwinState {
    std::map<ContentId, Claim> claims;
    std::map<ContentId, Evidence> evidence;
    std::map<std::string, std::string> labels;
    bool operator==(const TwinState&) const = default;
};

Claim twin_claim(int n) {
    Claim claim;
    claim.subject = "line:l" + std::to_string(n % 3);
    claim.relation = n % 2 ? "commissioned-by" : "sold-by";
    claim.object = {Value::Type::entity, "company:c" + std::to_string(n % 5), ""};
    if (n % 7 == 0) claim.when = "19" + std::to_string(30 + n % 9);
    return claim;
}

Evidence twin_evidence(int n) {
    Evidence evidence;
    evidence.claim = id_of(twin_claim(n % 12));
    evidence.source = "source:s" + std::to_string(n % 4);
    evidence.stance = n % 3 == 0 ? Stance::against : Stance::in_favour;
    evidence.quote = "words " + std::to_string(n % 6);
    return evidence;
}

// What the store says is in force at an entry.
TwinState state_of(const Snapshot& graph) {
    TwinState state;
    graph.each_claim([&](const ClaimWithEvidence& claim) {
        state.claims[claim.claim.id] = graph.to_record(claim.claim);
        for (const EvidenceRow& row : claim.evidence) state.evidence[row.id] = graph.to_record(row, claim.claim.id);
    });
    graph.each_entity([&](EntityId, const Entity& entity) {
        if (!entity.label.text.empty()) state.labels[entity.key] = entity.label.text;
    });
    return state;
}

// One random operation on both. Refused by the store exactly where the twin has no such record.
void apply(Change& change, TwinState& twin, std::set<ContentId>& put_now, int op, int n) {
    if (op == 0) {
        const Claim claim = twin_claim(n);
        if (put_now.count(id_of(claim)) && !twin.claims.count(id_of(claim))) {
            RC_ASSERT_THROWS_AS(change.put(claim), UsageFault);
            return;
        }
        change.put(claim);
        put_now.insert(id_of(claim));
        twin.claims[id_of(claim)] = claim;
    } else if (op == 1) {
        const Evidence evidence = twin_evidence(n);
        if (!twin.claims.count(evidence.claim)) {
            RC_ASSERT_THROWS_AS(change.put(evidence), UsageFault);
            return;
        }
        if (put_now.count(id_of(evidence)) && !twin.evidence.count(id_of(evidence))) {
            RC_ASSERT_THROWS_AS(change.put(evidence), UsageFault);
            return;
        }
        change.put(evidence);
        put_now.insert(id_of(evidence));
        twin.evidence[id_of(evidence)] = evidence;
    } else if (op == 2) {
        Entity entity;
        entity.key = "line:l" + std::to_string(n % 3);
        entity.label.text = "Line " + std::to_string(n % 4);
        change.put(entity);
        twin.labels[entity.key] = entity.label.text;
    } else {
        const ContentId id = n % 2 ? id_of(twin_claim(n)) : id_of(twin_evidence(n));
        if (put_now.count(id)) return;  // put and withdrawn in one change: not a use anybody has
        const bool claim = twin.claims.count(id) != 0;
        if (!claim && !twin.evidence.count(id)) {
            RC_ASSERT_THROWS_AS(change.put(Withdrawal{id, "why"}), UsageFault);
            return;
        }
        change.put(Withdrawal{id, "why"});
        put_now.insert(id);
        if (claim) twin.claims.erase(id);
        else twin.evidence.erase(id);
    }
}

// Evidence of a withdrawn claim is not in force to a reader, but comes back with the claim.
TwinState visible(TwinState state) {
    std::erase_if(state.evidence, [&](const auto& item) { return state.claims.count(item.second.claim) == 0; });
    return state;
}

class LinesOfLedger : public LedgerVisitor {
public:
    void entry(const Entry& entry) override {
        lines += to_json_line(EntryHeader{entry.number, entry.time, entry.author, entry.verb, entry.reason}) + "\n";
    }
    void document(const std::string& name, const std::string& text) override { lines += to_json_line(DocumentLine{name, text}) + "\n"; }
    void record(const Record& record) override { lines += to_json_line(record) + "\n"; }
    std::string lines;
};

class ReplayLedger : public LedgerVisitor {
public:
    explicit ReplayLedger(Change& change) : change_(change) {}
    void entry(const Entry& entry) override {
        ChangeHead head;
        head.verb = entry.verb;
        head.author = entry.author;
        head.reason = entry.reason;
        head.time = entry.time;
        change_.begin_entry(head, entry.number);
    }
    void document(const std::string& name, const std::string& text) override { change_.put_document(name, text); }
    void record(const Record& record) override {
        if (const auto* entity = std::get_if<Entity>(&record)) {
            change_.replace(*entity);
        } else if (const auto* source = std::get_if<Source>(&record)) {
            change_.replace(*source);
        } else {
            change_.put(record);
        }
    }

private:
    Change& change_;
};

std::string ledger_of(const Store& store) {
    LinesOfLedger lines;
    read_ledger(*store.snapshot(), 1, store.last_entry(), lines);
    return lines.lines;
}

}  // namespace

TEST_CASE("the store agrees with a plain twin as of every entry, and its ledger replays to the same graph") {
    const bool held = rc::check("store equals twin", [] {
        TemporaryFolder folder;
        Store store = Store::create(folder.path() / "g", {"", "", "tester", "2026-01-01T00:00:00Z"});
        TwinState twin;
        std::map<std::uint64_t, TwinState> then = {{1, twin}};
        const int changes = *rc::gen::inRange(1, 7);
        for (int i = 0; i < changes; ++i) {
            ChangeHead head;
            head.verb = "note";
            head.time = "2026-01-02T00:00:00Z";
            head.bulk_above = *rc::gen::element(std::size_t{0}, std::size_t{100'000});
            head.memory_budget = *rc::gen::element(std::size_t{1} << 10, std::size_t{1} << 26);
            head.lookup_budget = *rc::gen::element(std::size_t{0}, std::size_t{500}, std::size_t{1} << 26);
            Change change = store.begin(head);
            TwinState next = twin;
            std::set<ContentId> put_now;
            const auto operations = *rc::gen::container<std::vector<std::pair<int, int>>>(
                rc::gen::pair(rc::gen::weightedElement<int>({{4, 0}, {5, 1}, {1, 2}, {2, 3}}), rc::gen::inRange(0, 60)));
            for (const auto& operation : operations) apply(change, next, put_now, operation.first, operation.second);
            if (*rc::gen::inRange(0, 5) == 0) continue;  // dropped without commit: nothing happened
            const Entry entry = change.commit();
            twin = next;
            then[entry.number] = twin;
        }
        for (const auto& moment : then) RC_ASSERT(state_of(*store.snapshot(moment.first)) == visible(moment.second));
        RC_ASSERT(check(store).damage.empty());

        Store again = Store::create(folder.path() / "again", {"", "", "somebody", "2000-01-01T00:00:00Z"});
        ChangeHead little;
        little.lookup_budget = *rc::gen::element(std::size_t{0}, std::size_t{1} << 26);
        Change replay = again.begin(little);
        ReplayLedger into(replay);
        read_ledger(*store.snapshot(), 1, store.last_entry(), into);
        replay.commit();
        const bool same_ledger = ledger_of(again) == ledger_of(store);  // too long to print
        RC_ASSERT(same_ledger);
        RC_ASSERT(check(again).damage.empty());
    });
    CHECK(held);
}
