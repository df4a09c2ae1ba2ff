#include "kg/weigh/rule_sweep.h"

#include <catch2/catch.hpp>
#include <random>
#include <set>

#include "kg/model/vocabulary.h"
#include "kg/store/store.h"
#include "kg/weigh/rule_engine.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

// Later than later is later; a replacement is later, while the first rule is there.
std::string vocabulary_with(bool first_rule, const std::string& strength) {
    return std::string(R"({"vocabulary": "v", "version": "1", "language": "en", "kinds": {"item": {"label": "item"}, "source": {"label": "source"}},
      "relations": {"replaced-by": {"from": ["item"], "to": ["item"], "label": "was replaced by"},
                    "later-than": {"from": ["item"], "to": ["item"], "label": "is later than"}}, "rules": [)") +
           (first_rule ? R"({"name": "next", "when": [["?a", "replaced-by", "?b"]], "then": ["?b", "later-than", "?a"], "strength": 1, "reason": "r"},)" : "") +
           R"({"name": "chain", "when": [["?a", "later-than", "?b"], ["?b", "later-than", "?c"]], "where": [["?a", "is-not", "?c"]],
              "then": ["?a", "later-than", "?c"], "strength": )" + strength + R"(, "reason": "c"}]})";
}

ChangeHead head(const std::string& verb) {
    ChangeHead head;
    head.verb = verb;
    head.time = "2026-01-02T00:00:00Z";
    return head;
}

std::vector<Rule> rules_of(const Snapshot& graph) {
    Problems problems;
    auto rules = read_rules(graph.vocabulary_text(), graph.vocabulary(), problems);
    REQUIRE(rules);
    return *rules;
}

void load(Store& store, const std::vector<Claim>& claims) {
    const auto before = store.snapshot();
    RuleEngine engine(before->vocabulary(), rules_of(*before));
    Change change = store.begin(head("load"));
    for (const Claim& claim : claims)
        if (change.put(claim) == Put::added) engine.note(claim);
    engine.finish(*before, [&](const Record& record) { change.put(record); });
    change.commit();
}

RuleSweep take(Store& store, const std::string& text) {
    const auto before = store.snapshot();
    Problems problems;
    const Vocabulary next = *Vocabulary::parse(text, problems);
    const auto rules = read_rules(text, next, problems);
    Change change = store.begin(head("vocabulary"));
    if (before->vocabulary_text() != text) change.put_document("vocabulary", text);
    const RuleSweep swept = sweep_rules(*before, next, *rules, "no rule draws it", change);
    change.commit();
    return swept;
}

std::set<ContentId> arguments_of(const Store& store) {
    std::set<ContentId> out;
    const auto graph = store.snapshot();
    graph->each_argument([&](const ArgumentRow& row) { out.insert(row.id); });
    return out;
}

}  // namespace

TEST_CASE("a sweep leaves the arguments that loading everything under the rules would have made", "[rule_sweep]") {
    for (std::uint64_t seed = 0; seed < 20; ++seed) {
        std::mt19937_64 random(seed);
        std::vector<Claim> claims;
        for (int i = 0; i < 12; ++i) {
            const auto a = random() % 7, b = random() % 7;
            if (a != b) claims.push_back({"item:" + std::to_string(a), random() % 2 ? "replaced-by" : "later-than", {Value::Type::entity, "item:" + std::to_string(b), ""}, "", "", false});
        }
        const std::string first = vocabulary_with(true, "0.9"), second = vocabulary_with(random() % 2 == 0, "0.5");
        testing::TemporaryFolder folder;
        Store changed = Store::create(folder.path() / "changed", {first, "", "t", "2026-01-01T00:00:00Z"});
        load(changed, claims);
        const RuleSweep swept = take(changed, second);
        Store plain = Store::create(folder.path() / "plain", {second, "", "t", "2026-01-01T00:00:00Z"});
        // Conclusions of rules that are gone stay as claims, so they are on both sides what rules start from.
        std::vector<Claim> on_file;
        const auto graph = changed.snapshot(2);
        graph->each_claim([&](const ClaimWithEvidence& one) { on_file.push_back(graph->to_record(one.claim)); });
        load(plain, on_file);
        CHECK(arguments_of(changed) == arguments_of(plain));
        // Again: nothing to do. And back: as it was.
        const RuleSweep again = take(changed, second);
        CHECK(again.drawn + again.withdrawn == 0);
        const RuleSweep back = take(changed, first);
        CHECK(back.drawn == swept.withdrawn);
        CHECK(back.withdrawn == swept.drawn);
    }
}

TEST_CASE("a sweep leaves alone what waits for a withdrawn premise while its rule holds", "[rule_sweep]") {
    testing::TemporaryFolder folder;
    Store store = Store::create(folder.path() / "g", {vocabulary_with(true, "1"), "", "t", "2026-01-01T00:00:00Z"});
    const Claim claim{"item:a", "replaced-by", {Value::Type::entity, "item:b", ""}, "", "", false};
    load(store, {claim});
    Change change = store.begin(head("withdraw"));
    change.put(Withdrawal{id_of(claim), "misread"});
    change.commit();
    CHECK(take(store, vocabulary_with(true, "1")).withdrawn == 0);
    CHECK(arguments_of(store).size() == 1);
    CHECK(take(store, vocabulary_with(false, "1")).withdrawn == 1);
    CHECK(arguments_of(store).empty());
}
