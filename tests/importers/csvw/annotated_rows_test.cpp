#include "importers/csvw/annotated_rows.h"

#include <catch2/catch.hpp>
#include <unistd.h>

#include <filesystem>
#include <fstream>

#include "importers/csvw/foreign_keys.h"

using namespace saggar;
using namespace saggar::csvw;
namespace fs = std::filesystem;

namespace {

// The values of the only column, a row each; "null" for null, values in brackets where they are a list.
std::vector<std::string> values(const std::string& column, const std::string& csv, std::size_t* errors = nullptr) {
    Problems problems;
    const auto group = read_metadata(
        R"({"@context":"http://www.w3.org/ns/csvw","url":"t.csv","tableSchema":{"columns":[)" + column + "]}}",
        "m.json", problems);
    REQUIRE(group);
    TextInput input("t.csv", open_bytes(csv), problems);
    AnnotatedRows rows(group->tables.front(), input);
    REQUIRE(rows.start());
    std::vector<std::string> out;
    while (rows.next()) {
        const CellValue& cell = rows.cells().front();
        std::string text;
        for (const std::string_view one : cell.texts) text += (text.empty() ? "" : ",") + std::string(one);
        out.push_back(cell.is_null ? "null" : cell.is_list ? "[" + text + "]" : text);
    }
    if (errors) *errors = problems.errors();
    return out;
}

using Values = std::vector<std::string>;

struct TempFolder {
    fs::path path = fs::temp_directory_path() / ("saggar-csvw-test-" + std::to_string(::getpid()));
    TempFolder() {
        fs::remove_all(path);
        fs::create_directories(path);
    }
    ~TempFolder() { fs::remove_all(path); }
    void write(const std::string& name, const std::string& text) const { std::ofstream(path / name) << text; }
};

}  // namespace

TEST_CASE("the parsing examples of the Recommendation", "[csvw_rows]") {
    // Model for Tabular Data, section 6.4.1.
    CHECK(values(R"({"titles":"a","datatype":"integer"})", "a\n99\n") == Values{"99"});
    const std::string code = R"({"titles":"a","datatype":{"base":"integer","minimum":1,"maximum":10},"null":"99"})";
    CHECK(values(code, "a\n5\n99\n") == Values{"5", "null"});
    const std::string fallback =
        R"({"titles":"a","datatype":{"base":"integer","minimum":1,"maximum":10},"default":"5"})";
    CHECK(values(fallback, "a\n\"\"\n\"\t\"\n7\n") == Values{"5", "5", "7"});
    std::size_t errors = 0;
    const std::string list =
        R"({"titles":"a","datatype":{"base":"integer","minimum":1,"maximum":10},"default":"5","separator":" "})";
    CHECK(values(list, "a\n1 5 7.0\n", &errors) == Values{"[1,5]"});
    CHECK(errors == 1);
}

TEST_CASE("blanks, nulls, defaults and lists", "[csvw_rows]") {
    CHECK(values(R"({"titles":"a"})", "a\n\" x  y \"\n") == Values{" x  y "});
    CHECK(values(R"({"titles":"a","datatype":"normalizedString"})", "a\n\" x\n y \"\n") == Values{" x  y "});
    CHECK(values(R"({"titles":"a","datatype":"token"})", "a\n\" x\n y \"\n") == Values{"x y"});
    CHECK(values(R"({"titles":"a"})", "a\n\"\"\n") == Values{"null"});
    CHECK(values(R"({"titles":"a","null":["-","n/a"]})", "a\n-\nn/a\n\"\"\n") == Values{"null", "null", ""});
    CHECK(values(R"({"titles":"a","separator":";"})", "a\nx;y; z\n\"\"\n") == Values{"[x,y, z]", "[]"});
    CHECK(values(R"({"titles":"a","separator":";","datatype":"token"})", "a\nx; y ;;z\n") == Values{"[x,y,z]"});
    CHECK(values(R"({"titles":"a","separator":"; ","null":"-"})", "a\nx; -; z\n") == Values{"[x,z]"});
}

TEST_CASE("foreign keys", "[csvw_rows]") {
    // The W3C suite's tests 250 and 251 to 258: every row finds exactly one row.
    TempFolder folder;
    folder.write("makers.csv", "id,name\n1,Skerrow\n2,Other\n2,Twice\n");
    const std::string makers =
        R"({"url":"makers.csv","tableSchema":{"@id":"http://example.org/makers","columns":[{"titles":"id","name":"id"},{"titles":"name","name":"name"}]}})";
    const auto errors = [&](const std::string& reference, const std::string& csv) {
        Problems problems;
        const auto group = read_metadata(
            R"({"@context":"http://www.w3.org/ns/csvw","tables":[{"url":"t.csv","tableSchema":{"columns":[{"titles":"maker","name":"maker"}],
            "foreignKeys":[{"columnReference":"maker","reference":)" +
                reference + "}]}}," + makers + "]}",
            "m.json", problems);
        REQUIRE(group);
        TextInput input("t.csv", open_bytes(csv), problems);
        AnnotatedRows rows(group->tables.front(), input);
        ForeignKeyCheck keys(*group, group->tables.front(), folder.path, problems);
        REQUIRE(rows.start());
        if (keys.start(rows.columns())) {
            while (rows.next()) keys.check(rows);
        }
        return problems.errors();
    };
    const std::string by_table = R"({"resource":"makers.csv","columnReference":"id"})";
    const std::string by_schema = R"({"schemaReference":"http://example.org/makers","columnReference":"id"})";
    CHECK(errors(by_table, "maker\n1\n1\n\"\"\n") == 0);
    CHECK(errors(by_schema, "maker\n1\n") == 0);
    CHECK(errors(by_table, "maker\n1\n3\n") == 1);
    CHECK(errors(by_table, "maker\n2\n") == 1);
    CHECK(errors(R"({"resource":"nowhere.csv","columnReference":"id"})", "maker\n1\n") == 1);
    CHECK(errors(R"({"resource":"makers.csv","columnReference":"number"})", "maker\n1\n") == 1);
}
