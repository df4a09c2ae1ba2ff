#include "importers/checked_sink.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

namespace {

// The ids of the problems of one record, in order.
std::vector<std::string> verdict(Record record) {
    Problems problems;
    Collected collected;
    CheckedSink sink(collected, Vocabulary::standard(), Profile::standard(), problems);
    sink.put(std::move(record), PlainOrigin(Place{"f", 1, 1, "", 0}));
    CHECK(collected.records.empty() == problems.any_error());
    std::vector<std::string> ids;
    for (const Problem& problem : problems.list()) ids.push_back(problem.id);
    return ids;
}

using Ids = std::vector<std::string>;

Claim a_claim() {
    Claim claim;
    claim.subject = "line:northern";
    claim.relation = "built-on";
    claim.object = {Value::Type::entity, "shape:lantern", ""};
    return claim;
}

}  // namespace

TEST_CASE("claims are held against the vocabulary", "[checked_sink]") {
    CHECK(verdict(a_claim()) == Ids{});
    Claim claim = a_claim();
    claim.relation = "build-on";
    CHECK(verdict(claim) == Ids{"relation-unknown"});
    claim = a_claim();
    claim.relation = "carries";  // an inverse name is for people, records hold the relation
    CHECK(verdict(claim) == Ids{"relation-unknown"});
    claim = a_claim();
    claim.subject = "shape:tern";
    CHECK(verdict(claim) == Ids{"subject-kind"});
    claim.subject = "Line:northern";
    CHECK(verdict(claim) == Ids{"key-invalid"});
    claim.subject = "lin:northern";
    CHECK(verdict(claim) == Ids{"kind-unknown"});
    claim = a_claim();
    claim.object.text = "line:other";
    CHECK(verdict(claim) == Ids{"object-kind"});
    claim.object = {Value::Type::date, "1948", ""};
    CHECK(verdict(claim) == Ids{"object-type"});
    claim.object = {Value::Type::text, "", ""};
    CHECK(verdict(claim) == Ids{"object-missing"});
    claim = a_claim();
    claim.scope = "nowhere";
    claim.when = "1948-13";
    const Ids scoped = verdict(claim);
    REQUIRE(scoped.size() == 2);
    CHECK(scoped[0] == "key-invalid");
    CHECK(scoped[1].substr(0, 5) == "edtf-");
    claim = a_claim();
    claim.subject = "shape:tern";
    claim.relation = "looks-like";
    claim.object.text = "shape:fathom";
    CHECK(verdict(claim) == Ids{"claim-order"});
    claim = a_claim();
    claim.subject = "item:jug";
    claim.relation = "capacity";
    claim.object = {Value::Type::number, "one", "l"};
    CHECK(verdict(claim) == Ids{"number-invalid"});
}

TEST_CASE("evidence, lists and arguments keep to their ranges", "[checked_sink]") {
    Evidence evidence;
    evidence.claim = id_of(a_claim());
    evidence.source = "source:memo";
    CHECK(verdict(evidence) == Ids{});
    evidence.certainty = "probably";
    CHECK(verdict(evidence) == Ids{});
    evidence.certainty = "0.5";
    CHECK(verdict(evidence) == Ids{});
    evidence.certainty = "1.5";
    CHECK(verdict(evidence) == Ids{"chance-range"});
    evidence.certainty = "probabbly";
    CHECK(verdict(evidence) == Ids{"certainty-unknown"});
    evidence.certainty.clear();
    evidence.mention = -0.1;
    CHECK(verdict(evidence) == Ids{"chance-range"});
    evidence.mention.reset();
    evidence.reading = "sideways";
    CHECK(verdict(evidence) == Ids{"reading-unknown"});
    evidence.reading = "indirect";
    evidence.source.clear();
    CHECK(verdict(evidence) == Ids{"key-invalid"});
    evidence.source = "source:memo";
    evidence.claim = ContentId();
    CHECK(verdict(evidence) == Ids{"id-missing"});
    evidence.claim = id_of(a_claim());
    evidence.quote = std::string(1'000'001, 'x');
    CHECK(verdict(evidence) == Ids{"record-too-long"});
    Listing listing;
    listing.source = "source:list";
    listing.subject = "shape:tern";
    listing.relation = "comprises";
    CHECK(verdict(listing) == Ids{});
    listing.completeness = 1.01;
    CHECK(verdict(listing) == Ids{"chance-range"});
    Argument argument;
    argument.conclusion = id_of(a_claim());
    argument.strength = 2;
    CHECK(verdict(argument) == Ids{"chance-range"});
    CHECK(verdict(Withdrawal{}) == Ids{"id-missing"});
}

TEST_CASE("sources use words of the profile", "[checked_sink]") {
    Source source;
    source.key = "source:memo";
    source.type = "journal";
    CHECK(verdict(source) == Ids{});
    source.type = "jurnal";
    source.grade = "best";
    source.family_kind = "friends";
    CHECK(verdict(source) == Ids{"type-unknown", "grade-unknown", "family-kind-unknown"});
    source = Source();
    source.key = "source:memo";
    source.copied_from = {{"source:memo", 1, 1}};
    CHECK(verdict(source) == Ids{"copy-of-itself"});
    source.copied_from = {{"source:other", 1.2, 1}};
    source.tolerance_years = -1;
    source.reliability = 7;
    CHECK(verdict(source) == Ids{"chance-range", "tolerance-range", "chance-range"});
}

TEST_CASE("evidence for a claim nobody put is refused where the sink can tell", "[checked_sink]") {
    Problems problems;
    Collected collected;
    CheckedSink sink(collected, Vocabulary::standard(), Profile::standard(), problems,
                     [&](const ContentId& id) { return collected.has_claim(id); });
    Evidence evidence;
    evidence.claim = id_of(a_claim());
    evidence.source = "source:memo";
    sink.put(evidence, PlainOrigin(Place()));
    REQUIRE(problems.errors() == 1);
    CHECK(problems.list()[0].id == "claim-unknown");
    sink.put(a_claim(), PlainOrigin(Place()));
    sink.put(evidence, PlainOrigin(Place()));
    CHECK(problems.errors() == 1);
    CHECK(sink.passed() == 2);
}

TEST_CASE("ditto marks, errors and formulas of spreadsheets are told", "[checked_sink]") {
    const auto made_by = [](const std::string& key) { return Claim{"shape:a", "made-by", {Value::Type::entity, key, ""}, "", "", false}; };
    const auto numbered = [](const std::string& text) { return Claim{"shape:a", "numbered", {Value::Type::text, text, ""}, "", "", false}; };
    for (const char* const key : {"maker:ditto", "maker:do", "maker:idem", "maker:same-as-above"}) CHECK(verdict(made_by(key)) == std::vector<std::string>{"key-of-ditto"});
    for (const char* const text : {"#REF!", "#N/A", "#DIV/0!", "=HYPERLINK(\"x\")", "=\"2/40\""}) CHECK(verdict(numbered(text)) == std::vector<std::string>{"spreadsheet-cell"});
    for (const char* const text : {"#12", "= 3", "A=B", "#", "="}) CHECK(verdict(numbered(text)).empty());
    CHECK(verdict(made_by("maker:doulby")).empty());
    Entity named;
    named.key = "shape:a";
    named.label.text = "#VALUE!";
    CHECK(verdict(named) == std::vector<std::string>{"spreadsheet-cell"});
}
