#include "kg/weigh/rule_engine.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <set>

#include "kg/model/fault.h"
#include "kg/model/vocabulary.h"
#include "kg/store/store.h"
#include "kg/weigh/weigher.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;

namespace {

const std::string vocabulary_text = R"({"vocabulary": "v", "version": "1", "language": "en",
  "kinds": {"piece": {"label": "piece"}, "item": {"label": "item"}, "shape": {"label": "shape"}, "treatment": {"label": "treatment"}, "company": {"label": "company"}, "source": {"label": "source"}},
  "relations": {
    "instance-of": {"from": ["piece"], "to": ["item", "shape"], "inverse": "has-instance", "label": "is an example of"},
    "of-shape": {"from": ["item"], "to": ["shape"], "inverse": "has-item", "label": "is of the shape"},
    "replaced-by": {"from": ["item"], "to": ["item"], "label": "was replaced by"},
    "later-than": {"from": ["item"], "to": ["item"], "label": "is later than"},
    "same-decoration-as": {"from": ["treatment"], "to": ["treatment"], "symmetric": true, "label": "has the same decoration as"},
    "numbered": {"from": ["treatment"], "to": ["text"], "label": "was numbered"},
    "reserved-for": {"from": ["treatment"], "to": ["company"], "label": "was reserved for"}},
  "rules": [
    {"name": "shape", "when": [["?p", "instance-of", "?i"], ["?i", "of-shape", "?s"]], "then": ["?p", "instance-of", "?s"],
     "strength": 0.95, "reason": "an example of an item is an example of its shape"},
    {"name": "letter", "when": [["?t", "numbered", "?n"]], "where": [["?n", "starts-with", "N"], ["?n", "is-not", "N0"]],
     "then": ["?t", "reserved-for", "company:northern"], "strength": 0.8, "reason": "numbers with N were reserved"},
    {"name": "copied-decoration", "when": [["?a", "same-decoration-as", "?b"], ["?b", "reserved-for", "?c"]],
     "then": ["?a", "reserved-for", "?c"], "strength": 0.5, "reason": "the same decoration"},
    {"name": "next", "when": [["?a", "replaced-by", "?b"]], "then": ["?b", "later-than", "?a"], "strength": 1, "reason": "a replacement is later"},
    {"name": "chain", "when": [["?a", "later-than", "?b"], ["?b", "later-than", "?c"]], "where": [["?a", "is-not", "?c"]],
     "then": ["?a", "later-than", "?c"], "strength": 1, "reason": "later than later is later"}]})";

Claim link(const std::string& subject, const std::string& relation, const std::string& object, const std::string& scope = "", const std::string& when = "") {
    return {subject, relation, {Value::Type::entity, object, ""}, scope, when, false};
}

// A graph that fires its rules on each write, as a load does.
class RuledGraph {
public:
    // With the vocabulary above; empty: that for tableware.
    explicit RuledGraph(const std::string& vocabulary = vocabulary_text)
        : store_(Store::create(folder_.path() / "g", {vocabulary, "", "tester", "2026-01-01T00:00:00Z"})) {}

    std::size_t write(const std::vector<Record>& records, RuleLimits limits = {}) {
        const auto before = store_.snapshot();
        Problems problems;
        auto rules = read_rules(before->vocabulary_text(), before->vocabulary(), problems);
        REQUIRE(rules);
        RuleEngine engine(before->vocabulary(), *rules, limits);
        ChangeHead head;
        head.verb = "note";
        head.time = "2026-01-02T00:00:00Z";
        Change change = store_.begin(head);
        for (const Record& record : records) {
            if (change.put(record) == Put::added && std::holds_alternative<Claim>(record)) engine.note(std::get<Claim>(record));
        }
        const std::size_t fired = engine.finish(*before, [&](const Record& record) { change.put(record); });
        change.commit();
        snapshot_ = store_.snapshot();
        return fired;
    }
    bool has(const Claim& claim) const {
        const auto ref = snapshot_->find_claim(claim);
        return ref && snapshot_->claim(*ref);
    }
    std::vector<ArgumentRow> arguments(const Claim& claim) const { return snapshot_->arguments_for(*snapshot_->find_claim(claim)); }
    template <class Visit>
    void each_claim(Visit visit) const {
        snapshot_->each_claim([&](const ClaimWithEvidence& one) { visit(snapshot_->to_record(one.claim)); });
    }
    double support(const Claim& claim) { return Weigher(*snapshot_).support(*snapshot_->find_claim(claim)); }

private:
    testing::TemporaryFolder folder_;
    Store store_;
    std::unique_ptr<Snapshot> snapshot_;
};

Claim with_text(const std::string& subject, const std::string& relation, const std::string& text) {
    return {subject, relation, {Value::Type::text, text, ""}, "", "", false};
}

Evidence by_witness(const Claim& claim) {
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:witness";
    return evidence;
}

}  // namespace

TEST_CASE("a rule fires when its last premise arrives, and the argument names them", "[rules]") {
    RuledGraph graph;
    const Claim first = link("piece:1", "instance-of", "item:jug"), second = link("item:jug", "of-shape", "shape:halyard");
    CHECK(graph.write({first}) == 0);
    CHECK(graph.write({second}) == 1);
    const Claim conclusion = link("piece:1", "instance-of", "shape:halyard");
    REQUIRE(graph.has(conclusion));
    const auto arguments = graph.arguments(conclusion);
    REQUIRE(arguments.size() == 1);
    CHECK(arguments[0].premises.size() == 2);
    CHECK(arguments[0].strength == .95);
    CHECK(arguments[0].rule == "shape");
    CHECK(graph.write({second}) == 0);  // nothing new, nothing fired
}

TEST_CASE("a conclusion is supported as far as its premises are, and no further when one is withdrawn", "[rules]") {
    RuledGraph graph;
    const Claim first = link("piece:1", "instance-of", "item:jug"), second = link("item:jug", "of-shape", "shape:halyard");
    Source witness;
    witness.key = "source:witness";
    witness.reliability = .8;
    witness.dependence = 1;
    graph.write({witness, first, second, by_witness(first), by_witness(second)});
    const Claim conclusion = link("piece:1", "instance-of", "shape:halyard");
    CHECK(graph.support(conclusion) == Approx(.95 * .8));  // one witness for both: wholly dependent
    graph.write({Withdrawal{id_of(by_witness(second)), "misread"}});
    CHECK(graph.support(conclusion) == 0);
    CHECK(graph.has(conclusion));
}

TEST_CASE("tests on text decide whether a rule fires", "[rules]") {
    RuledGraph graph;
    const auto numbered = [](const std::string& treatment, const std::string& number) {
        return Claim{treatment, "numbered", {Value::Type::text, number, ""}, "", "", false};
    };
    graph.write({numbered("treatment:a", "N12"), numbered("treatment:b", "L204"), numbered("treatment:c", "N0")});
    CHECK(graph.has(link("treatment:a", "reserved-for", "company:northern")));
    CHECK_FALSE(graph.has(link("treatment:b", "reserved-for", "company:northern")));
    CHECK_FALSE(graph.has(link("treatment:c", "reserved-for", "company:northern")));
}

TEST_CASE("a symmetric claim is read both ways", "[rules]") {
    RuledGraph graph;
    graph.write({link("treatment:a", "same-decoration-as", "treatment:b"), link("treatment:a", "reserved-for", "company:c"),
                 link("treatment:y", "same-decoration-as", "treatment:x"), link("treatment:x", "reserved-for", "company:d")});
    CHECK(graph.has(link("treatment:b", "reserved-for", "company:c")));
    CHECK(graph.has(link("treatment:y", "reserved-for", "company:d")));
}

TEST_CASE("scope and time pass on to the conclusion, and do not mix", "[rules]") {
    RuledGraph graph;
    graph.write({link("piece:1", "instance-of", "item:jug", "", "1936/1938"), link("item:jug", "of-shape", "shape:h", "market:a", "1930/1940"),
                 link("piece:2", "instance-of", "item:mug", "market:b"), link("item:mug", "of-shape", "shape:h", "market:a"),
                 link("piece:3", "instance-of", "item:pot", "", "1931"), link("item:pot", "of-shape", "shape:h", "", "1935")});
    CHECK(graph.has(link("piece:1", "instance-of", "shape:h", "market:a", "1936/1938")));
    CHECK_FALSE(graph.has(link("piece:2", "instance-of", "shape:h")));
    CHECK_FALSE(graph.has(link("piece:3", "instance-of", "shape:h")));
}

TEST_CASE("recursion comes to an end and finds the transitive closure", "[rules]") {
    // Against Warshall, "A theorem on Boolean matrices" (1962), on random graphs entered in two halves.
    const std::size_t items = 6;
    for (std::uint64_t seed = 0; seed < 12; ++seed) {
        std::mt19937_64 random(seed);
        bool reach[items][items] = {};
        std::vector<std::vector<Record>> halves(2);
        for (int i = 0; i < 8; ++i) {
            const std::size_t a = random() % items, b = random() % items;
            if (a == b) continue;
            reach[b][a] = true;  // b is later than a
            halves[random() % 2].push_back(link("item:" + std::to_string(a), "replaced-by", "item:" + std::to_string(b)));
        }
        for (std::size_t k = 0; k < items; ++k) {
            for (std::size_t i = 0; i < items; ++i) {
                for (std::size_t j = 0; j < items; ++j) reach[i][j] = reach[i][j] || (reach[i][k] && reach[k][j]);
            }
        }
        RuledGraph graph;
        for (const auto& half : halves) graph.write(half);
        for (std::size_t i = 0; i < items; ++i) {
            for (std::size_t j = 0; j < items; ++j) {
                if (i == j) continue;  // the rule leaves these out
                CHECK(graph.has(link("item:" + std::to_string(i), "later-than", "item:" + std::to_string(j))) == reach[i][j]);
            }
        }
    }
}

TEST_CASE("the rules for tableware draw what a researcher would", "[rules]") {
    RuledGraph graph("");
    // A piece of an item, decorated: the shape, its articles, and what was put on both.
    graph.write({link("piece:1", "instance-of", "item:tern-jug"), link("item:tern-jug", "of-shape", "shape:tern"),
                 link("item:tern-jug", "article-of", "article:jug"), link("piece:1", "treated-with", "treatment:t5")});
    const Claim of_shape = link("piece:1", "instance-of", "shape:tern");
    REQUIRE(graph.has(of_shape));
    CHECK(graph.arguments(of_shape)[0].strength == 1);
    CHECK(graph.has(link("shape:tern", "comprises", "article:jug")));
    CHECK(graph.has(link("shape:tern", "treated-with", "treatment:t5")));
    CHECK(graph.has(link("item:tern-jug", "treated-with", "treatment:t5")));

    // The letter before a number tells the shape or the buyer, within one maker, once per treatment.
    graph.write({with_text("treatment:n1", "numbered", "N1"), with_text("treatment:t9", "numbered", "T9"), with_text("treatment:x", "numbered", "N7"),
                 link("treatment:n1", "made-by", "maker:a"), link("treatment:t9", "made-by", "maker:a"), link("treatment:x", "made-by", "maker:b"),
                 link("shape:tern", "made-by", "maker:a"), with_text("shape:tern", "number-letter", "T"),
                 link("maker:a", "keeps-numbers-for", "company:c"), with_text("company:c", "number-letter", "N")});
    const Claim ordered = link("treatment:n1", "commissioned-by", "company:c");
    REQUIRE(graph.has(ordered));
    CHECK(graph.arguments(ordered).size() == 1);
    CHECK(graph.arguments(ordered)[0].reason.find("common practice") != std::string::npos);
    CHECK(graph.has(link("shape:tern", "treated-with", "treatment:t9")));
    CHECK_FALSE(graph.has(link("treatment:t9", "commissioned-by", "company:c")));
    CHECK_FALSE(graph.has(link("shape:tern", "treated-with", "treatment:n1")));
    CHECK_FALSE(graph.has(link("treatment:x", "commissioned-by", "company:c")));  // another maker's number
}

TEST_CASE("a rule that could not fire before fires when the last kind of premise comes", "[rules]") {
    RuledGraph graph("");
    graph.write({with_text("treatment:n1", "numbered", "N1"), link("treatment:n1", "made-by", "maker:a")});
    CHECK(graph.write({link("maker:a", "keeps-numbers-for", "company:c")}) == 0);
    CHECK(graph.write({with_text("company:c", "number-letter", "N")}) == 1);
    CHECK(graph.has(link("treatment:n1", "commissioned-by", "company:c")));
}

TEST_CASE("a rule that sets off too much is stopped by name, and nothing of the change is kept", "[rules]") {
    const auto row_of_items = [](int count) {
        std::vector<Record> records;
        for (int i = 0; i + 1 < count; ++i) {
            records.push_back(link("item:" + std::to_string(i), "replaced-by", "item:" + std::to_string(i + 1)));
        }
        return records;
    };
    RuledGraph graph;
    const auto says = [&](RuleLimits limits) -> std::string {
        try {
            graph.write(row_of_items(30), limits);
        } catch (const LimitFault& fault) {
            return std::string(fault.what()) + "|" + fault.next_step();
        }
        return "fired";
    };
    // "later than" among 30 items in a row has 435 pairs, and more firings: the middle of each pair differs.
    for (const RuleLimits limits : {RuleLimits{400, 1'000'000}, RuleLimits{1'000'000, 400}}) {
        const std::string said = says(limits);
        INFO(said);
        CHECK(said.find("more than 400") != std::string::npos);
        CHECK(said.find("rule \"chain\" (/rules/4 of the vocabulary)") != std::string::npos);
        CHECK(said.find("one more condition") != std::string::npos);
    }
    CHECK(says({}) == "fired");
    CHECK(graph.has(link("item:29", "later-than", "item:0")));
}

TEST_CASE("a rule makes no value that was not there", "[rules]") {
    // Whatever is drawn is made of the keys, texts, scopes and times of what was written and of the constants of rules.
    const std::set<std::string> known = {"item:0", "item:1", "item:2", "item:3", "item:4", "piece:1", "shape:h", "treatment:a",
                                         "company:northern", "N1", "market:a", "1936", "1936/1938", ""};
    RuledGraph graph;
    std::vector<Record> records{link("piece:1", "instance-of", "item:1", "market:a", "1936/1938"), link("item:1", "of-shape", "shape:h", "", "1936"),
                                with_text("treatment:a", "numbered", "N1")};
    for (int i = 0; i < 5; ++i) {
        records.push_back(link("item:" + std::to_string(i), "replaced-by", "item:" + std::to_string((i + 1) % 5)));  // a circle
    }
    CHECK(graph.write(records) > 20);
    std::size_t claims = 0;
    graph.each_claim([&](const Claim& claim) {
        ++claims;
        for (const std::string& text : {claim.subject, claim.object.text, claim.scope, claim.when}) {
            INFO(text);
            CHECK(known.count(text) == 1);
        }
    });
    CHECK(claims > records.size() + 20);
    CHECK(graph.write(records) == 0);
}
