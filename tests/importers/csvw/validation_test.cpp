// The rules of the CSVW Recommendations, one case each. The numbers are those of the W3C "CSVW Implementation Report" test suite
// (w3c/csvw, tests/manifest-validation) whose rule a case follows; metadata and data are our own. 0: a rule of the text
// without a test there.
#include <catch2/catch.hpp>

#include "importers/csvw/annotated_rows.h"

using namespace saggar;
using namespace saggar::csvw;

namespace {

enum Verdict { good, warning, error };

struct Case {
    int test;
    Verdict verdict;
    std::string metadata;
    std::string csv;
};

const std::string tree_csv = "GID,On Street,Species\n1,A ST,Celtis\n2,B ST,Liquid\n";
const std::string tree_columns = R"([{"titles":"GID"},{"titles":"On Street"},{"titles":"Species"}])";
const std::string head = R"("@context":"http://www.w3.org/ns/csvw")";

// A description of one table, with further members of the table.
std::string table(const std::string& columns, const std::string& more = "", const std::string& schema_more = "") {
    return "{" + head + R"(,"url":"t.csv")" + (more.empty() ? "" : "," + more) + R"(,"tableSchema":{"columns":)" +
           columns + (schema_more.empty() ? "" : "," + schema_more) + "}}";
}
// The tree table with further members of the table, of the group, of the first column.
std::string tree(const std::string& more = "") { return table(tree_columns, more); }
std::string group(const std::string& more) {
    return "{" + head + R"(,"tables":[{"url":"t.csv","tableSchema":{"columns":)" + tree_columns + "}}]" +
           (more.empty() ? "" : "," + more) + "}";
}
std::string first_column(const std::string& more) {
    return table(R"([{"titles":"GID",)" + more + R"(},{"titles":"On Street"},{"titles":"Species"}])");
}
// One column "a" of a datatype, and its cells.
std::string typed(const std::string& datatype, const std::string& more = "") {
    return table(R"([{"titles":"a","datatype":)" + datatype + (more.empty() ? "" : "," + more) + "}]");
}
std::string cells(const std::vector<std::string>& texts) {
    std::string out = "a\n";
    for (const std::string& text : texts) out += "\"" + text + "\"\n";
    return out;
}

Verdict verdict_of(const Case& one, std::string& told) {
    Problems problems;
    const auto read = read_metadata(one.metadata, "t.csv-metadata.json", problems);
    if (read) {
        const Table* described = table_for(*read, "t.csv");
        REQUIRE(described);
        TextInput input("t.csv", open_bytes(one.csv.empty() ? tree_csv : one.csv), problems);
        AnnotatedRows rows(*described, input);
        if (rows.start()) {
            while (rows.next()) {
            }
        }
    }
    for (const Problem& problem : problems.list()) told += to_text(problem);
    return problems.any_error() ? error : problems.warnings() ? warning : good;
}

void check(const std::vector<Case>& all) {
    for (const Case& one : all) {
        std::string told;
        const Verdict verdict = verdict_of(one, told);
        INFO("test " << one.test << "\n" << one.metadata << "\n" << one.csv << told);
        CHECK(verdict == one.verdict);
    }
}

std::string dialect(const std::string& members) { return R"("dialect":{)" + members + "}"; }
std::string common(const std::string& value) { return R"("dc:x":)" + value; }

}  // namespace

TEST_CASE("values of the wrong type are passed over with a warning", "[csvw_validation]") {
    check(
        {{38, good,
          group(
              R"("null":"x","lang":"en","textDirection":"ltr","separator":";","ordered":false,"default":"","datatype":"string")"),
          ""},
         {39, good,
          first_column(
              R"("null":["","-"],"lang":"en-GB","required":true,"aboutUrl":"x:{GID}","propertyUrl":"y:z","valueUrl":"v:{GID}")"),
          ""},
         {40, warning, first_column(R"("null":1)"), ""},
         {41, warning, first_column(R"("lang":"not a tag")"), ""},
         {42, warning, first_column(R"("textDirection":"up")"), ""},
         {43, warning, first_column(R"("separator":false)"), ""},
         {44, warning, first_column(R"("ordered":"yes")"), ""},
         {45, warning, first_column(R"("default":1)"), ""},
         {46, warning, first_column(R"("datatype":1)"), ""},
         {47, warning, first_column(R"("aboutUrl":1)"), ""},
         {48, warning, first_column(R"("propertyUrl":1)"), ""},
         {49, warning, first_column(R"("valueUrl":1)"), ""},
         {59, warning, tree(dialect(R"("commentPrefix":1)")), ""},
         {60, warning, tree(dialect(R"("delimiter":1)")), ""},
         {61, warning, tree(dialect(R"("doubleQuote":"yes")")), ""},
         {62, warning, tree(dialect(R"("encoding":"utf-99")")), ""},
         {63, warning, tree(dialect(R"("header":"yes")")), ""},
         {65, warning, tree(dialect(R"("headerRowCount":-1)")), ""},
         {66, warning, tree(dialect(R"("lineTerminators":1)")), ""},
         {67, warning, tree(dialect(R"("quoteChar":1)")), ""},
         {68, warning, tree(dialect(R"("skipBlankRows":1)")), ""},
         {69, warning, tree(dialect(R"("skipColumns":-1)")), ""},
         {70, warning, tree(dialect(R"("skipInitialSpace":1)")), ""},
         {71, warning, tree(dialect(R"("skipRows":"1")")), ""},
         {72, warning, tree(dialect(R"("trim":"sideways")")), ""},
         {75, warning, group(R"("tableDirection":"up")"), ""},
         {76, warning, tree(R"("tableDirection":"up")"), ""},
         {102, warning, tree(R"("@id":1)"), ""},
         {105, warning, table(tree_columns, "", R"("primaryKey":"nowhere")"), ""},
         {106, warning, tree(R"("dialect":1)"), ""},
         {113, warning, tree(R"("suppressOutput":"no")"), ""},
         {114, warning, first_column(R"("name":1)"), ""},
         {115, warning, first_column(R"("virtual":"no")"), ""},
         {129, warning, first_column(R"("name":7)"), ""},
         {130, warning, first_column(R"("name":"a b")"), ""},
         {131, warning, first_column(R"("name":"_a")"), ""},
         {266, warning, first_column(R"("null":["a",1])"), ""}});
}

TEST_CASE("what must be there, and what may not", "[csvw_validation]") {
    check(
        {{74, error, "{" + head + R"(,"tables":[]})", ""},
         {77, error, group(R"("@id":"_:a")"), ""},
         {78, error, tree(R"("@id":"_:a")"), ""},
         {79, error, table(tree_columns, "", R"("@id":"_:a")"), ""},
         {80, error, first_column(R"("@id":"_:a")"), ""},
         {81, error, tree(dialect(R"("@id":"_:a")")), ""},
         {82, error, tree(R"("transformations":[{"@id":"_:a","url":"u","scriptFormat":"s","targetFormat":"t"}])"), ""},
         {83, error, group(R"("@type":"Table")"), ""},
         {84, error, tree(R"("@type":"Schema")"), ""},
         {85, error, table(tree_columns, "", R"("@type":"Column")"), ""},
         {86, error, first_column(R"("@type":"Dialect")"), ""},
         {87, error, tree(dialect(R"("@type":"Table")")), ""},
         {88, error,
          tree(R"("transformations":[{"@type":"Transformation","url":"u","scriptFormat":"s","targetFormat":"t"}])"),
          ""},
         {89, error, "{" + head + R"(,"@type":"TableGroup"})", ""},
         {90, error, "{" + head + R"(,"tables":[{"tableSchema":{}}]})", ""},
         {92, error, "{" + head, ""},
         {93, warning, tree(R"("colour":"red")"), ""},
         {94, warning, "{" + head + R"(,"tables":[1,{"url":"t.csv","tableSchema":{"columns":)" + tree_columns + "}}]}",
          ""},
         {95, warning, tree(R"("transformations":[1])"), ""},
         {96, warning, table(R"([1,{"titles":"GID"},{"titles":"On Street"},{"titles":"Species"}])"), ""},
         {97, warning, table(tree_columns, "", R"("foreignKeys":[1])"), ""},
         {98, error, "{" + head + R"(,"tables":1})", ""},
         {99, warning, tree(R"("transformations":1)"), ""},
         {100, error, table("1"), ""},
         {101, warning, table(tree_columns, "", R"("foreignKeys":1)"), ""},
         {103, error, "{" + head + R"(,"url":1})", ""},
         {107, error, "{" + head + R"(,"url":"t.csv","tableSchema":1})", ""},
         {108, error, table(tree_columns, "", R"("foreignKeys":[{"columnReference":"GID","reference":1}])"), ""},
         {104, error,
          table(
              tree_columns, "",
              R"("foreignKeys":[{"columnReference":"nowhere","reference":{"resource":"t.csv","columnReference":"GID"}}])"),
          ""},
         {271, error,
          table(
              tree_columns, "",
              R"("foreignKeys":[{"dc:x":1,"columnReference":"GID","reference":{"resource":"t.csv","columnReference":"GID"}}])"),
          ""},
         {272, error,
          table(
              tree_columns, "",
              R"("foreignKeys":[{"columnReference":"GID","reference":{"dc:x":1,"resource":"t.csv","columnReference":"GID"}}])"),
          ""},
         {128, error, table(R"([{"name":"a","titles":"GID"},{"name":"a","titles":"On Street"},{"titles":"Species"}])"),
          ""},
         {133, error,
          table(R"([{"titles":"GID"},{"virtual":true,"name":"v"},{"titles":"On Street"},{"titles":"Species"}])"), ""},
         {0, good,
          table(
              R"([{"titles":"GID"},{"titles":"On Street"},{"titles":"Species"},{"virtual":true,"name":"v","default":"x"}])"),
          ""},
         {270, warning, tree(R"("transformations":[{"foo":1,"url":"u","scriptFormat":"s","targetFormat":"t"}])"), ""},
         {273, good,
          R"({"@context":["http://www.w3.org/ns/csvw",{"@base":"data/"}],"url":"t.csv","tableSchema":{"columns":)" +
              tree_columns + "}}",
          ""},
         {274, error, R"({"@context":["http://www.w3.org/ns/csvw",{"@base":"data/","x":"y"}],"url":"t.csv"})", ""},
         {0, error, R"({"@context":"http://schema.org/","url":"t.csv"})", ""},
         {0, error, R"({"url":"t.csv"})", ""},
         {73, warning,
          R"({"@context":["http://www.w3.org/ns/csvw",{"@language":"1"}],"url":"t.csv","tableSchema":{"columns":)" +
              tree_columns + "}}",
          ""},
         {275, warning, group(R"("titles":"x")"), ""},
         {276, warning, tree(R"("titles":"x")"), ""},
         {277, warning, first_column(R"("url":"t.csv")"), ""}});
}

TEST_CASE("common properties hold plain JSON-LD", "[csvw_validation]") {
    check({{0, good, tree(common(R"({"@value":"x","@language":"en"})")), ""},
           {0, good, tree(common(R"([{"@id":"http://example.org/"},"x",1,true,{"schema:name":"y"}])")), ""},
           {134, error, tree(common(R"({"@context":{}})")), ""},
           {135, error, tree(common(R"({"@list":[]})")), ""},
           {136, error, tree(common(R"({"@set":[]})")), ""},
           {137, error, tree(common(R"({"@value":"x","@type":"_:a"})")), ""},
           {138, error, tree(common(R"({"@type":"_:a"})")), ""},
           {139, error, tree(common(R"({"@type":"foo"})")), ""},
           {140, error, tree(common(R"({"@type":1})")), ""},
           {141, error, tree(common(R"({"@id":"_:a"})")), ""},
           {142, error, tree(common(R"({"@value":"x","@language":"en","@type":"string"})")), ""},
           {143, error, tree(common(R"({"@value":"x","dc:y":1})")), ""},
           {144, error, tree(common(R"({"@language":"en"})")), ""},
           {145, error, tree(common(R"({"@value":"x","@language":"not a tag"})")), ""},
           {146, error, tree(common(R"({"@foo":1})")), ""},
           {263, good, tree(common(R"({"@type":"Table"})")), ""},
           {264, good, tree(common(R"({"@type":"foaf:Person"})")), ""}});
}

TEST_CASE("headers and titles", "[csvw_validation]") {
    const std::string titles_en = R"([{"titles":{"en":"GID"}},{"titles":"On Street"},{"titles":"Species"}])";
    check({{109, error,
            table(R"([{"titles":{"not a tag":"GID"},"name":"x"},{"titles":"On Street"},{"titles":"Species"}])"), ""},
           {110, warning, table(R"([{"titles":{"en":"GID","de":1}},{"titles":"On Street"},{"titles":"Species"}])"), ""},
           {111, error, table(R"([{"titles":1,"name":"x"},{"titles":"On Street"},{"titles":"Species"}])"), ""},
           {112, warning, table(R"([{"titles":["GID",1]},{"titles":"On Street"},{"titles":"Species"}])"), ""},
           {124, error, table(R"([{"name":"a"},{"name":"b"},{"name":"c"}])"), ""},
           {0, good, table(R"([{"name":"GID"},{"name":"On%20Street"},{"name":"Species"}])"), ""},
           {127, error, table(R"([{"titles":"GID"},{"titles":"Street"},{"titles":"Species"}])"), ""},
           {132, good, table(tree_columns, R"("aboutUrl":"x:{On%20Street}")"), ""},
           {147, error, table(R"([{"titles":"gid"},{"titles":"On Street"},{"titles":"Species"}])"), ""},
           {148, error, table(titles_en, R"("lang":"de")"), ""},
           {149, good, table(titles_en, R"("lang":"en-GB")"), ""},
           {0, good, table(R"([{"titles":["Number","GID"]},{"titles":"On Street"},{"titles":"Species"}])"), ""},
           {278, error, table(R"([{"titles":"GID"},{"titles":"On Street"}])"), ""},
           {0, error, table(tree_columns), "GID,On Street,Species\n1,A ST\n"},
           {0, error, table(tree_columns), "GID,On Street,Species\n1,A ST,x,y\n"}});
}

TEST_CASE("dialects", "[csvw_validation]") {
    check({{50, good, tree(dialect(R"("delimiter":"\t")")), "GID\tOn Street\tSpecies\n1\tA ST\tCeltis\n"},
           {51, good, tree(dialect(R"("skipRows":1)")), "#a comment\nGID,On Street,Species\n1,A ST,Celtis\n"},
           {52, good, tree(dialect(R"("commentPrefix":"#")")), "GID,On Street,Species\n#so it goes\n1,A ST,Celtis\n"},
           {0, error, tree(dialect(R"("commentPrefix":null)")), "GID,On Street,Species\n#so it goes\n1,A ST,Celtis\n"},
           {54, good, tree(dialect(R"("skipColumns":1)")), "x,GID,On Street,Species\ny,1,A ST,Celtis\n"},
           {55, good, tree(dialect(R"("skipBlankRows":true)")), "GID,On Street,Species\n,,\n1,A ST,Celtis\n"},
           {56, good, tree(dialect(R"("skipInitialSpace":true)")), "GID, On Street, Species\n1, A ST, Celtis\n"},
           {20, good, tree(dialect(R"("trim":"start")")), "  GID, On Street,  Species\n1,A ST,Celtis\n"},
           {0, error, tree(dialect(R"("trim":"start")")), "GID ,On Street,Species\n1,A ST,Celtis\n"},
           {21, good, tree(dialect(R"("trim":"end")")), "GID ,On Street,Species \n1,A ST,Celtis\n"},
           {22, good, tree(dialect(R"("trim":true)")), " GID , On Street , Species \n1,A ST,Celtis\n"},
           {23, good, tree(dialect(R"("header":false)")), "1,A ST,Celtis\n"},
           {24, good, tree(dialect(R"("header":false,"headerRowCount":1)")), ""},
           {25, good, tree(dialect(R"("header":false,"skipRows":1)")), "any,thing,here\n1,A ST,Celtis\n"},
           {0, good, tree(dialect(R"("quoteChar":"'","doubleQuote":false)")),
            "GID,On Street,Species\n1,'A \\'S\\' ST','Cel,tis'\n"},
           {0, good, tree(dialect(R"("headerRowCount":2)")),
            "Number,Street,Kind\nGID,On Street,Species\n1,A ST,Celtis\n"}});
}

TEST_CASE("datatypes and their formats", "[csvw_validation]") {
    check({{150, warning, typed(R"("foo")"), cells({"x"})},
           {151, warning, typed(R"({"base":"foo"})"), cells({"x"})},
           {238, warning, typed(R"("http://example.org/type")"), cells({"x"})},
           {242, good, typed(R"({"@id":"http://example.org/type","base":"string"})"), cells({"x"})},
           {243, error, typed(R"({"@id":"_:a"})"), cells({"x"})},
           {244, error, typed(R"({"@id":"http://www.w3.org/2001/XMLSchema#string"})"), cells({"x"})},
           {268, good, typed(R"({"length":1})"), cells({"x"})},
           {152, good, typed(R"({"base":"string","format":"[A-Z]-\\d+"})"), cells({"N-12"})},
           {153, warning, typed(R"({"base":"string","format":"(["})"), cells({"N-12"})},
           {154, error, typed(R"({"base":"string","format":"[A-Z]-\\d+"})"), cells({"12"})},
           {155, good, typed(R"({"base":"integer","format":"0"})"), cells({"0", "10"})},
           {156, warning, typed(R"({"base":"integer","format":"x"})"), cells({"0"})},
           {157, error, typed(R"({"base":"decimal","format":"0.0"})"), cells({"1.25"})},
           {158, good, typed(R"({"base":"decimal","format":{"decimalChar":",","groupChar":"_"}})"),
            cells({"10_000,1", "1,1"})},
           {159, warning, typed(R"({"base":"decimal","format":{"pattern":"x"}})"), cells({"1"})},
           {160, error, typed(R"({"base":"integer","format":{"pattern":"000"}})"), cells({"10"})},
           {161, error, typed(R"("decimal")"), cells({"ten"})},
           {162, error, typed(R"({"base":"decimal","format":{"groupChar":","}})"), cells({"1,,000"})},
           {163, error, typed(R"("integer")"), cells({"1.0"})},
           {164, error, typed(R"("decimal")"), cells({"1E6"})},
           {165, error, typed(R"("decimal")"), cells({"NaN"})},
           {166, error, typed(R"("decimal")"), cells({"INF"})},
           {167, error, typed(R"("decimal")"), cells({"-INF"})},
           {169, error, typed(R"("decimal")"), cells({"1,5"})},
           {170, good, typed(R"("decimal")"), cells({"25%"})},
           {171, good, typed(R"("decimal")"), cells({"25\u2030"})},
           {172, error, typed(R"("byte")"), cells({"128"})},
           {173, error, typed(R"("unsignedLong")"), cells({"-1"})},
           {174, error, typed(R"("unsignedShort")"), cells({"65536"})},
           {175, error, typed(R"("unsignedByte")"), cells({"256"})},
           {176, error, typed(R"("positiveInteger")"), cells({"0"})},
           {177, error, typed(R"("negativeInteger")"), cells({"0"})},
           {178, error, typed(R"("nonPositiveInteger")"), cells({"1"})},
           {179, error, typed(R"("nonNegativeInteger")"), cells({"-1"})},
           {180, error, typed(R"("double")"), cells({"one"})},
           {181, error, typed(R"("number")"), cells({"one"})},
           {182, error, typed(R"("float")"), cells({"one"})},
           {0, good, typed(R"("unsignedLong")"), cells({"18446744073709551615"})},
           {0, error, typed(R"("unsignedLong")"), cells({"18446744073709551616"})},
           {183, good, typed(R"({"base":"boolean","format":"Y|N"})"), cells({"Y", "N"})},
           {184, warning, typed(R"({"base":"boolean","format":"|N"})"), cells({"true", "0"})},
           {185, error, typed(R"({"base":"boolean","format":"Y|N"})"), cells({"true"})},
           {186, error, typed(R"("boolean")"), cells({"yes"})},
           {269, error, typed(R"({"base":"boolean","format":"YN"})"), cells({"Y"})},
           {187, good, typed(R"("date")"), cells({"2015-03-22", "2015-03-22Z"})},
           {188, good, typed(R"({"base":"date","format":"d.M.yyyy"})"), cells({"22.3.2015"})},
           {189, good, typed(R"({"base":"time","format":"HHmmss"})"), cells({"150237"})},
           {190, good, typed(R"({"base":"dateTime","format":"M/d/yyyy HH:mm"})"), cells({"3/22/2015 15:02"})},
           {191, error, typed(R"({"base":"date","format":"dd MMM yyyy"})"), cells({"22 Mar 2015"})},
           {192, error, typed(R"({"base":"date","format":"yyyy-MM-dd"})"), cells({"22.03.2015"})},
           {245, good, typed(R"({"base":"time","format":"HH:mm:ss.SSS"})"), cells({"15:02:37.143"})},
           {246, good, typed(R"({"base":"dateTime","format":"yyyy-MM-ddTHH:mm:ss.SSS"})"),
            cells({"2015-03-15T15:02:37.143"})},
           {247, error, typed(R"({"base":"dateTime","format":"yyyy-MM-ddTHH:mm:ss.SSS"})"),
            cells({"2015-03-15T15:02:37.1431"})},
           {193, good, typed(R"({"base":"duration","format":"P.*"})"), cells({"P1Y1D", "PT2H30M"})},
           {194, error, typed(R"({"base":"duration","format":"PT.*"})"), cells({"P1Y"})},
           {279, error, typed(R"("duration")"), cells({"1Y"})},
           {280, error, typed(R"("dayTimeDuration")"), cells({"P1Y"})},
           {281, error, typed(R"("yearMonthDuration")"), cells({"P1D"})},
           {282, good, typed(R"({"base":"decimal","format":"#,##0.##"})"), cells({"1,234.5"})},
           {283, good, typed(R"({"base":"decimal","format":"+0%"})"), cells({"+5%", "-5%"})},
           {284, good, typed(R"({"base":"integer","format":"#,##,##0"})"), cells({"12,34,567"})},
           {248, good, typed(R"("string")"), cells({"e\u0301"})},
           {0, error, typed(R"("anyURI")"), cells({"http://a b"})},
           {0, error, typed(R"("language")"), cells({"not a tag"})},
           {0, good, typed(R"("gYear")"), cells({"1948"})},
           {0, error, typed(R"("gYear")"), cells({"48"})},
           {0, good, typed(R"("hexBinary")"), cells({"0aFF"})},
           {0, error, typed(R"("hexBinary")"), cells({"0aF"})},
           {0, good, typed(R"("base64Binary")"), cells({"aGVsbG8="})},
           {0, error, typed(R"("base64Binary")"), cells({"aGVsbG8"})}});
}

TEST_CASE("limits of values", "[csvw_validation]") {
    check({{195, good, typed(R"({"base":"string","length":3})"), cells({"abc", "\u00e9t\u00e9"})},
           {196, error, typed(R"({"base":"string","length":3})"), cells({"ab"})},
           {197, error, typed(R"({"base":"string","maxLength":3})"), cells({"abcd"})},
           {198, error, typed(R"({"base":"string","minLength":3})"), cells({"ab"})},
           {199, error, typed(R"({"length":2,"minLength":3})"), cells({"ab"})},
           {200, error, typed(R"({"length":4,"maxLength":3})"), cells({"abcd"})},
           {261, error, typed(R"({"minLength":4,"maxLength":3})"), cells({"abcd"})},
           {201, error, typed(R"({"base":"date","length":10})"), cells({"2015-03-22"})},
           {202, good, typed(R"({"base":"float","minimum":1,"maximum":10})"), cells({"1", "5.5", "10"})},
           {203, error, typed(R"({"base":"float","minimum":1})"), cells({"0.9"})},
           {204, error, typed(R"({"base":"float","maximum":10})"), cells({"10.1"})},
           {205, error, typed(R"({"base":"float","minInclusive":1})"), cells({"0.9"})},
           {206, error, typed(R"({"base":"float","minExclusive":1})"), cells({"1"})},
           {207, error, typed(R"({"base":"float","maxInclusive":10})"), cells({"10.1"})},
           {208, error, typed(R"({"base":"float","maxExclusive":10})"), cells({"10"})},
           {209, good, typed(R"({"base":"date","minimum":"1919-01-01","maximum":"1968-12-31"})"),
            cells({"1919-01-01", "1948-03-12"})},
           {210, error, typed(R"({"base":"date","minimum":"1919-01-01"})"), cells({"1918-12-31"})},
           {211, error, typed(R"({"base":"date","maximum":"1968-12-31"})"), cells({"1969-01-01"})},
           {212, error, typed(R"({"base":"date","minInclusive":"1919-01-01"})"), cells({"1918-12-31"})},
           {213, error, typed(R"({"base":"date","minExclusive":"1919-01-01"})"), cells({"1919-01-01"})},
           {214, error, typed(R"({"base":"date","maxInclusive":"1968-12-31"})"), cells({"1969-01-01"})},
           {215, error, typed(R"({"base":"date","maxExclusive":"1968-12-31"})"), cells({"1968-12-31"})},
           {216, error, typed(R"({"base":"float","minInclusive":1,"minExclusive":1})"), cells({"5"})},
           {217, error, typed(R"({"base":"float","maxInclusive":1,"maxExclusive":1})"), cells({"0"})},
           {218, error, typed(R"({"base":"float","minInclusive":10,"maxInclusive":5})"), cells({"7"})},
           {219, error, typed(R"({"base":"float","minInclusive":10,"maxExclusive":10})"), cells({"10"})},
           {220, error, typed(R"({"base":"float","minExclusive":10,"maxExclusive":5})"), cells({"7"})},
           {221, error, typed(R"({"base":"float","minExclusive":10,"maxInclusive":10})"), cells({"10"})},
           {222, error, typed(R"({"base":"string","minimum":1})"), cells({"5"})},
           {223, error, typed(R"({"base":"string","maximum":1})"), cells({"0"})},
           {224, error, typed(R"({"base":"string","minInclusive":1})"), cells({"5"})},
           {225, error, typed(R"({"base":"string","maxInclusive":1})"), cells({"0"})},
           {226, error, typed(R"({"base":"string","minExclusive":1})"), cells({"5"})},
           {227, error, typed(R"({"base":"string","maxExclusive":1})"), cells({"0"})},
           {228, good, typed(R"({"length":2})", R"("separator":";")"), cells({"ab;cd"})},
           {229, good, typed(R"({"minLength":2})", R"("separator":";")"), cells({"ab;cde"})},
           {230, error, typed(R"({"minLength":2})", R"("separator":";")"), cells({"ab;c"})}});
}

TEST_CASE("required cells and primary keys", "[csvw_validation]") {
    check({{125, error, typed(R"("string")", R"("required":true)"), cells({"x", ""})},
           {126, error, typed(R"("string")", R"("required":true,"null":"-")"), cells({"x", "-"})},
           {0, good, typed(R"("string")", R"("required":true,"default":"y")"), cells({"x", ""})},
           {0, good, typed(R"("integer")", R"("null":"n/a")"), cells({"1", "n/a"})},
           {231, good, table(tree_columns, "", R"("primaryKey":"GID")"), ""},
           {232, error, table(tree_columns, "", R"("primaryKey":"GID")"), "GID,On Street,Species\n1,A,x\n1,B,y\n"},
           {233, good, table(tree_columns, "", R"("primaryKey":["GID","Species"])"),
            "GID,On Street,Species\n1,A,x\n1,B,y\n"},
           {234, error, table(tree_columns, "", R"("primaryKey":["GID","Species"])"),
            "GID,On Street,Species\n1,A,x\n1,B,x\n"},
           {235, good, table(tree_columns, "", R"("rowTitles":"GID")"), ""},
           {236, good, table(tree_columns, "", R"("rowTitles":["GID","Species"])"), ""}});
}
