#include "importers/jsonl.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("lines with history", "[jsonl]") {
    Claim claim;
    claim.subject = "line:northern";
    claim.relation = "built-on";
    claim.object = {Value::Type::entity, "shape:lantern", ""};
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:memo";
    const std::vector<Record> records = {claim, evidence, Withdrawal{id_of(evidence), "misread"}};
    std::string text = to_json_line(EntryHeader{1, "2024-05-01T10:00:00Z", "ME", "load", "a.csv"}) + "\n";
    text += to_json_line(records[0]) + "\n" + to_json_line(records[1]) + "\r\n\n";
    text += to_json_line(EntryHeader{2, "2024-05-02T10:00:00Z", "TW", "withdraw", "misread"}) + "\n" +
            to_json_line(records[2]);
    const Collected read = read_good(text, "g.jsonl");
    CHECK(read.records == records);
    CHECK(read.lines == std::vector<std::uint32_t>{2, 3, 6});
    REQUIRE(read.entries.size() == 2);
    CHECK(read.entries[1].author == "TW");
    CHECK(read_good(text, "no-ending").records == records);
}
