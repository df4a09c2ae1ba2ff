#include "importers/reader.h"

#include <catch2/catch.hpp>

using namespace saggar;

TEST_CASE("formats are told by name, then by content", "[reader]") {
    struct Row {
        std::string path, head;
        std::optional<Format> format;
    };
    for (const Row& row : std::vector<Row>{{"a.csv", "", Format::table},
                                           {"a.CSV", "", Format::table},
                                           {"notes.md", "", Format::notes},
                                           {"g.jsonl", "", Format::json_lines},
                                           {"t.vtt", "", Format::webvtt},
                                           {"b.json", "  [ {", Format::csl_json},
                                           {"x", "WEBVTT\n", Format::webvtt},
                                           {"x", "{\"claim\":{", Format::json_lines},
                                           {"x.txt", "subject,relation,object\n", Format::table},
                                           {"x.txt", "\"key\",\"label\"\r\n", Format::table},
                                           {"x.txt", "Dear Sir,\n", {}},
                                           {"b.json", "7", {}}}) {
        INFO(row.path << " " << row.head);
        CHECK(detect_format(row.path, row.head) == row.format);
    }
}

TEST_CASE("every format has a word", "[reader]") {
    for (const std::string& name : format_names()) {
        REQUIRE(format_named(name));
        CHECK(format_name(*format_named(name)) == name);
    }
    CHECK_FALSE(format_named("spreadsheet"));
}
