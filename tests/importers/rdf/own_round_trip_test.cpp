#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "importers/rdf/own_records.h"
#include "importers/rdf/quad_sort.h"
#include "importers/rdf/quad_write.h"
#include "importers/rdf/record_quads.h"
#include "tests/importers/collect.h"
#include "tests/kg/store/temporary_folder.h"

using namespace saggar;
using namespace saggar::test;

namespace {

const std::string hostile = "\"quoted\" \\ back\nline\r\ttab \xE2\x80\xAE" "bidi \xF0\x9F\xAB\x96 </script> ''' \"\"\" @en ^^<x> {[(# \x7F";

std::vector<Record> hostile_records() {
    std::vector<Record> records;
    Entity shape;
    shape.key = "shape:a.b_c-1";
    shape.label = {hostile, "en-GB"};
    shape.also = {{"zweite", "de"}, {hostile, ""}, {"erste", "no such tag!"}};
    shape.remark = hostile;
    shape.image = "a b.png";
    shape.identifiers = {"https://x.example/a b", "1", "0"};
    records.emplace_back(shape);
    Source source;
    source.key = "source:s";
    source.title = hostile;
    source.reliability = 0.1;
    source.dependence = 1e-7;
    source.tolerance_years = 3;
    source.copied_from = {{"source:t", 0.25, 1}, {"source:u", 1, 0.9}};
    source.issued = "1948~/..";
    source.more = {{"a field \"", hostile}, {"volume", "4"}};
    source.is_private = true;
    records.emplace_back(source);
    for (const Value& object : {Value{Value::Type::text, hostile, ""}, Value{Value::Type::text, "1935", ""}, Value{Value::Type::number, "1.50", "l \""},
                                Value{Value::Type::number, "2e3", ""}, Value{Value::Type::date, "[1935..1940]", ""},
                                Value{Value::Type::entity, "person:maud", ""}}) {
        Claim claim{"shape:a.b_c-1", "has-feature", object, "line:n", "1935?", false};
        records.emplace_back(claim);
        Evidence evidence;
        evidence.claim = id_of(claim);
        evidence.source = "source:s";
        evidence.quote = hostile;
        evidence.at = hostile;
        evidence.certainty = "0.5";
        evidence.mention = 0.3;
        evidence.recorded_by = hostile;
        evidence.recorded_on = "1951-03-02";
        evidence.stance = Stance::against;
        records.emplace_back(evidence);
        records.emplace_back(Argument{{id_of(claim)}, id_of(claim), Stance::against, 0.7, hostile, "a rule", "Q", "", true});
        records.emplace_back(Ruling{id_of(claim), Ruling::Decision::left_open, hostile, {id_of(evidence)}, "Q", "1951", false});
        records.emplace_back(Withdrawal{id_of(evidence), hostile});
    }
    records.emplace_back(Listing{"source:s", "shape:a.b_c-1", "comprises", "", "1950/1960", 0.9, "p. 3", hostile, hostile, "Q", "", false});
    return records;
}

std::vector<std::string> json_of(const std::vector<Record>& records) {
    std::vector<std::string> lines;
    for (const Record& record : records) lines.push_back(to_json_line(record));
    return lines;
}

std::string written(const std::vector<Record>& records, const char* format) {
    const saggar::testing::TemporaryFolder folder;
    rdf::ClaimStates states;
    for (const Record& record : records) states.note(record, 1);
    rdf::QuadSort sorted(folder.path());
    rdf::RecordQuads quads(Vocabulary::standard(), states, [&](const rdf::Quad& quad) { sorted.add(quad); });
    quads.preface();
    quads.entry({1, "2026-01-01T00:00:00Z", hostile, "load", hostile});
    for (const Record& record : records) quads.record(record);
    std::ostringstream out;
    const auto writer = rdf::quad_writer(format, out);
    sorted.each([&](const rdf::Quad& quad) { writer->put(quad); });
    writer->finish();
    return out.str();
}

// Read without the checks of a vocabulary: what was written is what must come back.
std::vector<Record> read_back(const std::string& text, const std::string& name, Collected& into) {
    Problems problems;
    const ReadContext context{Vocabulary::standard(), ""};
    read_bytes(text, name, {}, context, into, problems);
    INFO(all_problems(problems));
    CHECK(problems.errors() + problems.warnings() == 0);
    return into.records;
}

}  // namespace

TEST_CASE("hostile records come back as they were, through N-Quads and TriG", "[rdf][own]") {
    const auto records = hostile_records();
    for (const auto& [format, name] : {std::pair<const char*, const char*>{"nquads", "a.nq"}, {"trig", "a.trig"}}) {
        Collected into;
        CHECK(json_of(read_back(written(records, format), name, into)) == json_of(records));
        REQUIRE(into.entries.size() == 1);
        CHECK(into.entries[0].author == hostile);
        CHECK(into.entries[0].reason == hostile);
    }
}

TEST_CASE("a record whose content was altered is refused at its line", "[rdf][own]") {
    std::string text = written({Claim{"shape:a", "made-by", {Value::Type::entity, "maker:b", ""}, "", "", false}}, "nquads");
    const std::size_t at = text.find("urn:saggar:thing:maker:b");
    text.replace(at, 24, "urn:saggar:thing:maker:c");
    Problems problems;
    read_text(text, "a.nq", problems);
    REQUIRE(problems.any_error());
    CHECK(problems.list()[0].id == "json-id-mismatch");
    CHECK(problems.list()[0].place.line > 0);
    CHECK(problems.list()[0].place.text.find("urn:saggar:claim:") != std::string::npos);
}

TEST_CASE("two values of one field are refused", "[rdf][own]") {
    std::string text = written({Claim{"shape:a", "made-by", {Value::Type::entity, "maker:b", ""}, "", "", false}}, "nquads");
    const std::size_t at = text.find("<http://www.w3.org/1999/02/22-rdf-syntax-ns#subject>");
    const std::size_t begin = text.rfind('\n', at) + 1;
    std::string line = text.substr(begin, text.find('\n', at) + 1 - begin);
    line.replace(line.find("shape:a"), 7, "shape:z");
    Problems problems;
    read_text(text + line, "a.nq", problems);
    REQUIRE(problems.any_error());
    CHECK(problems.list()[0].id == "rdf-two-values");
}

TEST_CASE("a claim is a plain triple only while it is asserted", "[rdf][own]") {
    const Claim claim{"shape:a", "made-by", {Value::Type::entity, "maker:b", ""}, "", "", false};
    const auto evidence = [&](Stance stance, const char* source, const char* certainty) {
        Evidence one;
        one.claim = id_of(claim);
        one.source = source;
        one.stance = stance;
        one.certainty = certainty;
        return one;
    };
    const Evidence in_favour = evidence(Stance::in_favour, "source:s", "");
    const Evidence against = evidence(Stance::against, "source:t", "");
    const Evidence hedged = evidence(Stance::in_favour, "source:u", "possibly");
    const Ruling rejected{id_of(claim), Ruling::Decision::rejected, "", {}, "Q", "", false};
    const Ruling accepted{id_of(claim), Ruling::Decision::accepted, "", {}, "Q", "", false};
    struct Case {
        std::vector<Record> records;
        std::string status;
    };
    const std::vector<Case> cases = {{{claim}, "unsupported"},
                                     {{claim, in_favour}, "asserted"},
                                     {{claim, hedged}, "hedged"},
                                     {{claim, against}, "denied"},
                                     {{claim, in_favour, against}, "disputed"},
                                     {{claim, in_favour, against, accepted}, "asserted"},
                                     {{claim, in_favour, rejected}, "denied"},
                                     {{claim, in_favour, Withdrawal{id_of(claim), ""}}, "withdrawn"},
                                     {{claim, in_favour, Withdrawal{id_of(in_favour), ""}}, "unsupported"},
                                     {{claim, in_favour, against, Withdrawal{id_of(against), ""}}, "asserted"}};
    for (const Case& one : cases) {
        const std::string text = written(one.records, "nquads");
        INFO(one.status);
        CHECK(text.find("<urn:saggar:term:status> <urn:saggar:term:" + one.status + ">") != std::string::npos);
        const bool plain = text.find("<urn:saggar:thing:shape:a> <urn:saggar:relation:made-by> <urn:saggar:thing:maker:b>") != std::string::npos;
        CHECK(plain == (one.status == "asserted"));
    }
}
