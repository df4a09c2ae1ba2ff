#include "kg/store/store.h"

#include <catch2/catch.hpp>

#include "kg/model/fault.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using testing::TemporaryFolder;

namespace {

Claim link_claim(const std::string& subject, const std::string& relation, const std::string& object) {
    return Claim{subject, relation, {Value::Type::entity, object, ""}, "", "", false};
}

Evidence reading_of(const Claim& claim, const std::string& source, Stance stance = Stance::in_favour) {
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = source;
    evidence.stance = stance;
    return evidence;
}

Store fresh(const TemporaryFolder& folder) {
    return Store::create(folder.path() / "g", {"", "", "tester", "2026-01-01T00:00:00Z"});
}

ChangeHead head_of(const std::string& verb, std::size_t bulk_above = 20'000) {
    ChangeHead head;
    head.verb = verb;
    head.time = "2026-01-02T00:00:00Z";
    head.bulk_above = bulk_above;
    return head;
}

const Claim northern = link_claim("line:northern", "commissioned-by", "company:northern-provident");

}  // namespace

TEST_CASE("what is put comes back, through a batch and through table files") {
    const std::size_t bulk_above = GENERATE(std::size_t{20'000}, std::size_t{0});
    TemporaryFolder folder;
    Store store = fresh(folder);
    Change change = store.begin(head_of("note", bulk_above));
    Entity entity;
    entity.key = "line:northern";
    entity.label = {"Northern", "en"};
    CHECK(change.put(entity) == Put::added);
    CHECK(change.put(northern) == Put::added);
    CHECK(change.put(northern) == Put::already_there);
    Evidence first = reading_of(northern, "source:memo");
    first.quote = "for the Northern people";
    first.certainty = "probably";
    CHECK(change.put(first) == Put::added);
    CHECK(change.put(reading_of(northern, "source:rumour", Stance::against)) == Put::added);
    const Entry entry = change.commit();
    CHECK(entry.number == 2);
    CHECK(entry.counts.claims == 1);
    CHECK(entry.counts.evidence == 2);
    CHECK(entry.counts.entities == 4);  // the line, and three that were only mentioned

    const auto snapshot = store.snapshot();
    const EntityId line = snapshot->need("line:northern");
    CHECK(snapshot->label_of(line) == "Northern");
    const auto claims = snapshot->claims_of(line);
    REQUIRE(claims.size() == 1);
    CHECK(snapshot->to_record(claims[0].claim) == northern);
    REQUIRE(claims[0].evidence.size() == 2);
    CHECK(snapshot->to_record(claims[0].evidence[0], claims[0].claim.id) == first);
    CHECK(claims[0].evidence[1].stance == Stance::against);
    const EntityId buyer = snapshot->need("company:northern-provident");
    REQUIRE(snapshot->claims_about(buyer).size() == 1);
    CHECK(snapshot->claims_about(buyer)[0] == claims[0].claim.ref);
    CHECK(snapshot->links(line) == std::vector<Link>{{buyer, claims[0].claim.ref, true}});
    CHECK(snapshot->links(buyer) == std::vector<Link>{{line, claims[0].claim.ref, false}});
    CHECK(snapshot->evidence_from(snapshot->need("source:memo")).size() == 1);
    CHECK(snapshot->need_id("claim:" + claims[0].claim.id.brief()) == claims[0].claim.id);
}

TEST_CASE("putting the same again makes no entry") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    for (int round = 0; round < 2; ++round) {
        Change change = store.begin(head_of("note"));
        change.put(northern);
        change.put(reading_of(northern, "source:memo"));
        CHECK(change.commit().number == 2);
    }
    CHECK(store.last_entry() == 2);
}

TEST_CASE("withdrawing hides, keeps the past, and recording again revives") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    const Evidence reading = reading_of(northern, "source:memo");
    {
        Change change = store.begin(head_of("note"));
        change.put(northern);
        change.put(reading);
        change.commit();
    }
    {
        Change change = store.begin(head_of("withdraw"));
        change.put(Withdrawal{id_of(reading), "misread"});
        CHECK(change.commit().number == 3);
    }
    const ClaimRef ref = *store.snapshot()->find_claim(northern);
    CHECK(store.snapshot()->claim(ref)->evidence.empty());
    CHECK(store.snapshot(2)->claim(ref)->evidence.size() == 1);
    CHECK(store.snapshot()->history(3, 3).at(0).withdrawals.at(0).reason == "misread");
    {
        Change change = store.begin(head_of("withdraw"));
        CHECK_THROWS_AS(change.put(Withdrawal{id_of(reading), "again"}), UsageFault);
        change.put(Withdrawal{id_of(northern), "no such thing"});
        change.commit();
    }
    CHECK_FALSE(store.snapshot()->find_claim(northern));
    CHECK(store.snapshot()->links(store.snapshot()->need("line:northern")).empty());
    CHECK(store.snapshot(3)->links(store.snapshot()->need("line:northern")).size() == 1);
    {
        Change change = store.begin(head_of("note"));
        CHECK(change.put(northern) == Put::added);
        CHECK(change.put(reading) == Put::added);
        change.commit();
    }
    CHECK(store.snapshot()->claim(ref)->evidence.size() == 1);
    CHECK(store.snapshot(4)->claim(ref).has_value() == false);
}

TEST_CASE("descriptions are united and keep their versions") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    Source memo;
    memo.key = "source:memo";
    memo.title = "Memo of 3 May";
    memo.box = "4";
    {
        Change change = store.begin(head_of("load"));
        CHECK(change.put(memo) == Put::added);
        change.commit();
    }
    Source more;
    more.key = memo.key;
    more.grade = "works-record";
    {
        Change change = store.begin(head_of("load"));
        CHECK(change.put(more) == Put::changed);
        change.commit();
    }
    const auto now = store.snapshot();
    const EntityId id = now->need("source:memo");
    CHECK(now->source(id)->box == "4");
    CHECK(now->source(id)->grade == "works-record");
    CHECK(store.snapshot(2)->source(id)->grade.empty());
}

TEST_CASE("a change that is not committed leaves nothing") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    {
        Change change = store.begin(head_of("note"));
        change.put(northern);
    }
    CHECK(store.last_entry() == 1);
    CHECK_FALSE(store.snapshot()->find("line:northern"));
}

TEST_CASE("evidence for a claim nobody recorded is refused") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    Change change = store.begin(head_of("note"));
    CHECK_THROWS_AS(change.put(reading_of(northern, "source:memo")), UsageFault);
}

TEST_CASE("a second opening for writing says who holds the graph; reading goes on") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    // The lock belongs to this process, so F_GETLK cannot see it; RocksDB itself refuses.
    CHECK_THROWS_AS(Store::open(folder.path() / "g", Access::write), InUse);
    const Store reader = Store::open(folder.path() / "g", Access::read);
    CHECK(reader.last_entry() == 1);
}

TEST_CASE("unknown keys and ids come with the next step") {
    TemporaryFolder folder;
    Store store = fresh(folder);
    Change change = store.begin(head_of("note"));
    change.put(northern);
    change.commit();
    const auto snapshot = store.snapshot();
    try {
        snapshot->need("line:northen");
        FAIL("no such key");
    } catch (const UsageFault& fault) {
        CHECK(std::string(fault.what()) == "the graph knows no line:northen");
        CHECK(fault.next_step() == "near keys: line:northern");
    }
    CHECK_THROWS_AS(snapshot->need("northern"), UsageFault);
    CHECK_THROWS_AS(snapshot->need_id("claim:zzzz"), UsageFault);
    CHECK_THROWS_AS(snapshot->need_id("claim:u"), UsageFault);
    CHECK_THROWS_AS(store.snapshot(99), UsageFault);
}
