#include "importers/own_table_write.h"

#include <catch2/catch.hpp>

#include <sstream>

#include "importers/csvw/annotated_rows.h"
#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

namespace {

template <class Writer, class Put>
std::string table_of(Put put) {
    std::ostringstream out;
    Writer writer(out);
    put(writer);
    return out.str();
}

}  // namespace

TEST_CASE("things and sources come back from their tables", "[own_table]") {
    Entity shape;
    shape.key = "shape:lantern";
    shape.label.text = " \"Lantern\", the\nfirst ";
    shape.also = {{"Laterne", "de"}, {"Old Lantern", ""}};
    shape.remark = "a,b;c";
    shape.image = "media/lantern.jpg";
    shape.is_private = true;
    const auto entities = table_of<EntityTableWriter>([&](auto& out) { out.put(shape); });
    CHECK(read_good(entities, "entities.csv").only<Entity>() == shape);
    Source source;
    source.key = "piece:jug";
    source.title = "A jug";
    source.type = "piece";
    source.grade = "object-in-hand";
    source.reliability = 1.0 / 3;
    source.family = "skerrow-works";
    source.family_kind = "circle";
    source.copied_from = {{"source:a", 0.7, 1}, {"source:b", 1, 0.00001}, {"source:c", 1, 1}};
    source.dependence = 0.25;
    source.tolerance_years = 12;
    source.issued = "[1931-34]";
    source.author = "M. E.";
    source.archive = "Record Office";
    source.place = "Marnhaven";
    source.collection = "Papers";
    source.box = "3";
    source.folder = "7";
    source.rights = "by leave";
    source.url = "https://example.org/a,b";
    const auto sources = table_of<SourceTableWriter>([&](auto& out) { out.put(source); });
    CHECK(read_good(sources, "sources.csv").only<Source>() == source);
}

TEST_CASE("every stance comes back from the table of claims", "[own_table]") {
    Claim claim;
    claim.subject = "shape:lantern";
    claim.relation = "introduced-in";
    claim.object = {Value::Type::date, "1936~/1938", ""};
    claim.scope = "line:northern";
    claim.when = "1950?";
    Evidence first;
    first.claim = id_of(claim);
    first.source = "source:a";
    first.at = "page=3";
    first.quote = "said \"so\"\r\nand so";
    first.certainty = "probably";
    first.reading = "indirect";
    first.remark = " blanks stay ";
    first.recorded_by = "H. Q.";
    first.recorded_on = "2024-05-06";
    Evidence against = first;
    against.stance = Stance::against;
    against.corrects = id_of(first);
    Evidence silent;
    silent.claim = first.claim;
    silent.source = "source:b";
    silent.stance = Stance::against;
    silent.mention = 0.3;
    silent.recorded_by = "H. Q.";
    Listing list;
    list.source = "source:list";
    list.subject = "shape:lantern";
    list.relation = "comprises";
    list.completeness = 0.95;
    list.recorded_by = "H. Q.";
    Argument argument;
    argument.premises = {first.claim};
    argument.conclusion = first.claim;
    argument.stance = Stance::against;
    argument.strength = 0.1;
    argument.reason = "why";
    argument.recorded_by = "H. Q.";
    argument.is_private = false;
    const auto claims = table_of<ClaimTableWriter>([&](auto& out) {
        out.put(claim, first);
        out.put(claim, against);
        out.put(claim, silent);
        out.put(list);
        out.put(claim, argument, {first.claim.full()});
    });
    const Collected read = read_good(claims, "claims.csv");
    CHECK(read.all<Claim>().front() == claim);
    CHECK(read.all<Evidence>() == std::vector<Evidence>{first, against, silent});
    CHECK(read.only<Listing>() == list);
    CHECK(read.only<Argument>() == argument);
}

TEST_CASE("a quarter of EDTF is written so that nobody takes it for a run", "[own_table]") {
    Claim claim;
    claim.subject = "shape:lantern";
    claim.relation = "introduced-in";
    claim.object = {Value::Type::date, "1931-34", ""};
    Evidence evidence;
    evidence.claim = id_of(claim);
    evidence.source = "source:a";
    const auto claims = table_of<ClaimTableWriter>([&](auto& out) { out.put(claim, evidence); });
    CHECK(read_good(claims, "claims.csv").only<Claim>().object.text == "[1931-34]");
}

TEST_CASE("the metadata beside the tables are sound CSVW and fit them", "[own_table]") {
    Entity shape;
    shape.key = "shape:lantern";
    shape.also = {{"a", ""}, {"b", ""}};
    Source source;
    source.key = "source:a";
    source.reliability = 0.5;
    source.tolerance_years = 3;
    Claim claim;
    claim.subject = "shape:lantern";
    claim.relation = "made-by";
    claim.object = {Value::Type::entity, "maker:skerrow", ""};
    Evidence evidence;
    evidence.source = "source:a";
    evidence.mention = 0.5;
    const std::pair<OwnTable, std::string> tables[] = {
        {OwnTable::entities, table_of<EntityTableWriter>([&](auto& out) { out.put(shape); })},
        {OwnTable::sources, table_of<SourceTableWriter>([&](auto& out) { out.put(source); })},
        {OwnTable::claims, table_of<ClaimTableWriter>([&](auto& out) { out.put(claim, evidence); })}};
    for (const auto& [table, text] : tables) {
        Problems problems;
        const auto group =
            csvw::read_metadata(own_table_metadata(table, "en"), own_table_file(table) + "-metadata.json", problems);
        INFO(all_problems(problems));
        REQUIRE(group);
        CHECK(problems.errors() + problems.warnings() == 0);
        TextInput input(own_table_file(table), open_bytes(text), problems);
        csvw::AnnotatedRows rows(group->tables.front(), input);
        CHECK(rows.start());
        CHECK(rows.next());
        CHECK_FALSE(rows.next());
        CHECK(all_problems(problems).empty());
    }
}
