#include "kg/model/record_json.h"

#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "kg/model/record_fields.h"

using namespace saggar;

namespace {

Claim the_claim() {
    Claim claim;
    claim.subject = "line:northern";
    claim.relation = "commissioned-by";
    claim.object = {Value::Type::entity, "company:northern-provident", ""};
    claim.when = "1948~";
    return claim;
}

std::vector<Record> one_of_each() {
    Entity entity;
    entity.key = "shape:lantern";
    entity.label = {"Lantern", "en"};
    entity.also = {{"Laterne", "de"}, {"No. 7", ""}};
    entity.remark = "two\nlines \"quoted\"";
    entity.image = "media/lantern.jpg";
    entity.identifiers = {"https://example.org/7"};
    entity.is_private = true;
    Source source;
    source.key = "source:journal";
    source.title = "Working journal";
    source.type = "journal";
    source.reliability = 0.95;
    source.copied_from = {{"source:notice", 0.7, 0.95}};
    source.dependence = 0.5;
    source.tolerance_years = 2;
    source.box = "3";
    source.more = {{"call-number", "MS 12"}, {"custom-note", "è"}};
    const Claim claim = the_claim();
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = source.key;
    evidence.stance = Stance::against;
    evidence.at = "page=12";
    evidence.quote = "not ours, 1948";
    evidence.certainty = "probably";
    evidence.mention = 0.1;
    evidence.corrects = id_of(claim);
    evidence.recorded_by = "M. E.";
    evidence.recorded_on = "2024-05-01";
    Listing listing;
    listing.source = source.key;
    listing.subject = "shape:tern";
    listing.relation = "comprises";
    listing.completeness = 0.9;
    Argument argument;
    argument.premises = {id_of(claim)};
    argument.conclusion = id_of(claim);
    argument.strength = 0.3;
    argument.reason = "a guess";
    Ruling ruling;
    ruling.claim = id_of(claim);
    ruling.decision = Ruling::Decision::rejected;
    ruling.looked_at = {id_of(evidence)};
    ruling.reasons = "see p. 12";
    return {entity, source, claim, evidence, listing, argument, ruling, Withdrawal{id_of(evidence), "misread"}};
}

std::optional<JsonLine> read_line(std::string_view line, Problems& problems) {
    return RecordJsonReader().read(TextLines("f.jsonl", line, 7), problems);
}

Problem the_line_problem(std::string_view line) {
    Problems problems;
    CHECK_FALSE(read_line(line, problems));
    REQUIRE(problems.errors() >= 1);
    return problems.list().front();
}

// Collects the names a record's fields have outside.
struct NameCollector {
    std::vector<std::string> names;
    template <class T>
    void operator()(std::string_view name, const T&, Need) {
        names.emplace_back(name);
    }
    template <class R>
    void own_id(const R&) {
        names.emplace_back("id");
    }
};

}  // namespace

TEST_CASE("a claim as a line", "[record_json]") {
    CHECK(to_json_line(the_claim()) ==
          R"({"claim":{"id":")" + id_of(the_claim()).full() + R"(","object":{"entity":"company:northern-provident"},)" +
              R"("relation":"commissioned-by","subject":"line:northern","when":"1948~"}})");
    CHECK(to_json_line(EntryHeader{3, "2024-05-01T10:00:00Z", "ME", "load", "a.csv"}) ==
          R"({"entry":{"author":"ME","number":3,"reason":"a.csv","time":"2024-05-01T10:00:00Z","verb":"load"}})");
}

TEST_CASE("every record reads back equal, and its line is canonical", "[record_json]") {
    for (const Record& record : one_of_each()) {
        const std::string line = to_json_line(record);
        INFO(line);
        Problems problems;
        const auto back = read_line(line, problems);
        REQUIRE(back);
        CHECK(std::get<Record>(*back) == record);
        CHECK(to_json_line(std::get<Record>(*back)) == line);
        // The other library sorts members by name too, writes no blanks, and leaves letters beyond ASCII as they are.
        CHECK(nlohmann::json::parse(line).dump() == line);
    }
    Problems problems;
    const EntryHeader entry{3, "2024-05-01T10:00:00Z", "ME", "load", "a.csv"};
    CHECK(std::get<EntryHeader>(*read_line(to_json_line(entry), problems)) == entry);
}

TEST_CASE("the fields of every record are listed by name in order", "[record_json]") {
    for (const Record& record : one_of_each()) {
        NameCollector collector;
        std::visit([&](const auto& plain) { each_field(plain, collector); }, record);
        CHECK(std::is_sorted(collector.names.begin(), collector.names.end()));
    }
}

TEST_CASE("members in any order, with blanks, without ids, are read the same", "[record_json]") {
    Problems problems;
    const auto back = read_line(R"( { "claim" : { "when" : "1948~", "subject":"line:northern",
        "object" : {"entity": "company:northern-provident"}, "relation":"commissioned-by" } } )",
                                problems);
    REQUIRE(back);
    CHECK(std::get<Claim>(std::get<Record>(*back)) == the_claim());
}

TEST_CASE("lines that are refused", "[record_json]") {
    struct Row {
        std::string line;
        std::string id;
        std::uint32_t column;
        std::string message_part;
    };
    for (const Row& row : std::vector<Row>{
             {R"([])", "json-no-record", 1, "one member"},
             {R"({"entity":{"key":"a:b"},"claim":{}})", "json-no-record", 1, "one member"},
             {R"({"thing":{}})", "json-no-record", 2, "\"thing\""},
             {R"({"entity":{}})", "json-missing-field", 11, "\"key\""},
             {R"({"entity":{"key":"a:b","colour":"red"}})", "json-unknown-field", 24, "\"colour\""},
             {R"({"entity":{"key":5}})", "json-wrong-type", 18, "\"key\" is a number; a string is wanted"},
             {R"({"entity":{"key":"a:b","private":"yes"}})", "json-wrong-type", 34, "a boolean is wanted"},
             {R"({"entity":{"key":"a:b","also":[{"text":"x","lang":"en"}]}})", "json-unknown-field", 44, "\"lang\""},
             {R"({"entity":{"key":"a:b","also":["x"]}})", "json-wrong-type", 32, "an object is wanted"},
             {R"({"source":{"key":"a:b","reliability":1e999}})", "json-bad-value", 38, "1e999"},
             {R"({"source":{"key":"a:b","tolerance":1.5}})", "json-bad-value", 36, "whole number"},
             {R"({"claim":{"object":{"year":"1948"},"relation":"r","subject":"a:b"}})", "json-bad-value", 20, "object"},
             {R"({"claim":{"object":{"text":"x","date":"1948"},"relation":"r","subject":"a:b"}})", "json-unknown-field",
              32, "\"date\""},
             {R"({"evidence":{"claim":"short","source":"a:b","stance":"for"}})", "json-bad-value", 22, "not an id"},
             {R"({"evidence":{"claim":"00000000000000000000000000","source":"a:b","stance":"pro"}})", "json-bad-value",
              75, "\"pro\" is not a stance"},
             {R"({"claim":{"id":"00000000000000000000000000","object":{"text":"x"},"relation":"r","subject":"a:b"}})",
              "json-id-mismatch", 16, "not that of this content"},
             {R"({"entity":{"key":"a:b","key":"a:c"}})", "json-duplicate-key", 24, "twice"},
             {R"({"entry":{"number":-1}})", "json-bad-value", 20, "-1"}}) {
        const Problem problem = the_line_problem(row.line);
        INFO(row.line << "\n" << to_text(problem));
        CHECK(problem.id == row.id);
        CHECK(problem.place.line == 7);
        CHECK(problem.place.column == row.column);
        CHECK(problem.message.find(row.message_part) != std::string::npos);
        CHECK_FALSE(problem.next_step.empty());
    }
}

TEST_CASE("the reader tells where a field stands", "[record_json]") {
    Problems problems;
    const std::string text = R"({"entity":{"key":"a:b","remark":"x"}})";
    const TextLines line("f.jsonl", text, 7);
    RecordJsonReader reader;
    REQUIRE(reader.read(line, problems));
    CHECK(reader.place_of("remark").column == 33);
    CHECK(reader.place_of("label").column == 1);
}

TEST_CASE("damaged lines never crash the reader", "[record_json]") {
    std::vector<std::string> lines;
    for (const Record& record : one_of_each()) lines.push_back(to_json_line(record));
    rc::prop("one byte changed: refused, or read as something that writes and reads back", [&] {
        std::string line = lines[*rc::gen::inRange<std::size_t>(0, lines.size())];
        line[*rc::gen::inRange<std::size_t>(0, line.size())] = *rc::gen::arbitrary<char>();
        Problems problems;
        const auto back = read_line(line, problems);
        RC_ASSERT(back.has_value() == !problems.any_error());
        if (!back || std::holds_alternative<EntryHeader>(*back)) return;
        const Record record = std::get<Record>(*back);
        Problems none;
        const auto again = read_line(to_json_line(record), none);
        RC_ASSERT(again.has_value());
        RC_ASSERT(std::get<Record>(*again) == record);
    });
}
