#include "importers/own_table.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("a claims table becomes claims with evidence", "[own_table]") {
    const Collected read = read_good(
        "subject,relation,object,when,scope,source,at,quote,certainty,recorded_by,recorded_on\r\n"
        "line:northern , commissioned-by,company:northern-provident,1948,,ledger,page=12,\" the words, \"\"quoted\"\" "
        "\",probably,,\r\n"
        "piece:jug,made-in-year,ca. 1935,,,piece:jug,,,0.7,T. W.,2024-05-01\r\n"
        "item:jug,capacity,1.2 l,,,source:list,,,,,\r\n"
        "treatment:fern,numbered,N-12 ,,company:calloway,source:list,,,,,\r\n",
        "c.csv");
    const auto claims = read.all<Claim>();
    const auto evidence = read.all<Evidence>();
    REQUIRE(claims.size() == 4);
    REQUIRE(evidence.size() == 4);
    CHECK(claims[0].subject == "line:northern");
    CHECK(claims[0].object == Value{Value::Type::entity, "company:northern-provident", ""});
    CHECK(claims[0].when == "1948");
    CHECK(evidence[0].claim == id_of(claims[0]));
    CHECK(evidence[0].source == "source:ledger");
    CHECK(evidence[0].at == "page=12");
    CHECK(evidence[0].quote == " the words, \"quoted\" ");
    CHECK(evidence[0].certainty == "probably");
    CHECK(evidence[0].recorded_by == "M. E.");
    CHECK(claims[1].object == Value{Value::Type::date, "1935~", ""});
    CHECK(evidence[1].certainty == "0.7");
    CHECK(evidence[1].recorded_by == "T. W.");
    CHECK(evidence[1].recorded_on == "2024-05-01");
    CHECK(claims[2].object == Value{Value::Type::number, "1.2", "l"});
    CHECK(claims[3].object == Value{Value::Type::text, "N-12", ""});
    CHECK(claims[3].scope == "company:calloway");
    CHECK(read.lines == std::vector<std::uint32_t>{2, 2, 3, 3, 4, 4, 5, 5});
}

TEST_CASE("every stance has its record", "[own_table]") {
    const Collected read = read_good(
        "subject,relation,object,stance,source,at,mention,completeness,corrects,premises,strength,reason,private\n"
        "shape:tern,comprises,article:tureen,for,journal,p. 1,,,,,,,\n"
        "shape:tern,comprises,article:tureen,against,journal,p. 9,,,p. 1,,,,\n"
        "shape:tern,comprises,*,lists-all,list,,,.9,,,,,\n"
        "shape:tern,comprises,article:tureen,silent,memo,,0.4,,,,,,\n"
        "shape:tern,designed-by,person:wrenholt,argued,,,,,,"
        "shape:tern comprises article:tureen + piece:x made-in-year 1935,0.3,a guess,yes\n"
        "shape:tern,designed-by,person:wrenholt,argued-against,,,,,,,0.2,he had left,\n",
        "c.csv");
    const auto evidence = read.all<Evidence>();
    REQUIRE(evidence.size() == 3);
    CHECK(evidence[0].stance == Stance::in_favour);
    CHECK(evidence[1].stance == Stance::against);
    CHECK(evidence[1].corrects == id_of(evidence[0]));
    CHECK(evidence[2].stance == Stance::against);
    CHECK(evidence[2].mention == 0.4);
    const Listing listing = read.only<Listing>();
    CHECK(listing.completeness == 0.9);
    CHECK(listing.subject == "shape:tern");
    CHECK(listing.source == "source:list");
    const auto arguments = read.all<Argument>();
    REQUIRE(arguments.size() == 2);
    CHECK(arguments[0].premises.size() == 2);
    CHECK(arguments[0].strength == 0.3);
    CHECK(arguments[0].is_private);
    CHECK(arguments[1].stance == Stance::against);
    CHECK(arguments[1].premises.empty());
    for (const ContentId& premise : arguments[0].premises) CHECK(read.has_claim(premise));
}

TEST_CASE("an inverse name turns a claim round, a symmetric one is put in order", "[own_table]") {
    const Collected read = read_good(
        "subject,relation,object,source\n"
        "company:calloway,commissioned,line:northern,s\n"
        "line:northern,commissioned-by,company:calloway,s\n"
        "shape:tern,looks-like,shape:fathom,s\n"
        "shape:fathom,looks-like,shape:tern,s\n",
        "c.csv");
    const auto claims = read.all<Claim>();
    REQUIRE(claims.size() == 4);
    CHECK(claims[0] == claims[1]);
    CHECK(claims[0].subject == "line:northern");
    CHECK(claims[2] == claims[3]);
    CHECK(claims[2].subject == "shape:fathom");
}

TEST_CASE("of several dates in a cell the one that fits the relation is taken", "[own_table]") {
    const Collected read = read_good(
        "subject,relation,object,source\n"
        "item:jug,introduced-in,\"modelled 1945, introduced 1946\",s\n"
        "item:jug,modelled-in,\"modelled 1945, introduced 1946\",s\n",
        "c.csv");
    const auto claims = read.all<Claim>();
    REQUIRE(claims.size() == 2);
    CHECK(claims[0].object.text == "1946");
    CHECK(claims[1].object.text == "1945");
}

TEST_CASE("a sources table fills every field", "[own_table]") {
    const Collected read = read_good(
        "\xEF\xBB\xBFkey,title,type,grade,reliability,family,family_kind,copied_from,dependence,tolerance,issued,"
        "author,archive,"
        "place,collection,box,folder,rights,url,private\n"
        "guide,\"The guide, \",book,contemporary-print,.8,guides,literature,source:notice (chance .7) (fidelity 0.95); "
        "memo,0.5,5,early 1950s,A. Writer,Town archive,Garrow,Papers,3,7,\xC2\xA9,https://example.org,yes\n"
        "piece:jug,,piece,,,,,,,,,,,,,,,,,\n",
        "s.csv");
    const auto sources = read.all<Source>();
    REQUIRE(sources.size() == 2);
    const Source& guide = sources[0];
    CHECK(guide.key == "source:guide");
    CHECK(guide.title == "The guide,");
    CHECK(guide.reliability == 0.8);
    CHECK(guide.copied_from == std::vector<Copy>{{"source:notice", 0.7, 0.95}, {"source:memo", 1, 1}});
    CHECK(guide.dependence == 0.5);
    CHECK(guide.tolerance_years == 5);
    CHECK(guide.issued == "[1950..1953]");
    CHECK(guide.box == "3");
    CHECK(guide.rights == "\u00a9");
    CHECK(guide.is_private);
    CHECK(sources[1].key == "piece:jug");
}

TEST_CASE("an entities table reads keys, names and languages", "[own_table]") {
    const Collected read = read_good(
        "Key , KIND,label,also,remark,image\n"
        "lantern,shape,Lantern,Laterne@de; No. 7 ;a@b.example, blanks stay ,x.jpg\n"
        "maker:skerrow,,Skerrow & Co.,,,\n"
        "maker:skerrow,maker,,,,\n",
        "e.csv");
    const auto entities = read.all<Entity>();
    REQUIRE(entities.size() == 3);
    CHECK(entities[0].key == "shape:lantern");
    CHECK(entities[0].also == std::vector<Name>{{"Laterne", "de"}, {"No. 7", ""}, {"a@b.example", ""}});
    CHECK(entities[0].remark == " blanks stay ");
    CHECK(entities[1].key == "maker:skerrow");
}

TEST_CASE("a source for the whole file", "[own_table]") {
    ReadOptions options;
    options.source = "source:index-cards";
    const Collected read = read_good("subject,relation,object\nline:a,built-on,shape:b\n", "c.csv", options);
    CHECK(read.only<Evidence>().source == "source:index-cards");
}

TEST_CASE("blank rows and blank cells beyond the header say nothing", "[own_table]") {
    const Collected read =
        read_good("subject,relation,object,source\n,,,\n \xC2\xA0,,,\nline:a,built-on,shape:b,s,,\n", "c.csv");
    CHECK(read.records.size() == 2);
}

TEST_CASE("the same rows in another order give the same records", "[own_table]") {
    const Collected one =
        read_good("subject,relation,object,source\nline:a,built-on,shape:b,s\nline:c,built-on,shape:d,s\n", "a.csv");
    const Collected two =
        read_good("source,object,relation,subject\ns,shape:d,built-on,line:c\ns,shape:b,built-on,line:a\n", "b.csv");
    REQUIRE(one.records.size() == 4);
    CHECK(one.records[0] == two.records[2]);
    CHECK(one.records[3] == two.records[1]);
}

TEST_CASE("a date with a word that is not the relation's is taken with a warning", "[own_table]") {
    const std::string head = "subject,relation,object,source,when\n";
    for (const auto& [row, warnings] : {std::pair("piece:1,made-in-year,designed 1932,source:a,", 1), std::pair("piece:1,made-in-year,made 1932,source:a,", 0),
                                        std::pair("piece:1,made-in-year,1932,source:a,", 0), std::pair("shape:a,treated-with,treatment:b,source:a,introduced 1932", 0)}) {
        Problems problems;
        const auto read = read_text(head + row + "\n", "c.csv", problems);
        INFO(row << '\n' << all_problems(problems));
        CHECK(problems.warnings() == static_cast<std::size_t>(warnings));
        CHECK(problems.errors() == 0);
        CHECK(read.all<Claim>().size() == 1);
        if (warnings) CHECK(problems.list().front().id == "date-label");
    }
}
