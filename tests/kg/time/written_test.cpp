// Every row of kg/time/WRITTEN.md is read as it says there, or refused at the place it says.
//
// Sources: the bracketed forms and 197-, 18-- are the examples of Anglo-American Cataloguing Rules 2, rule 1.4F7 (from
// memory); the two-phase cells are spellings met in published museum tables; what early, mid and late mean is a
// convention.
#include <catch2/catch.hpp>
#include <fstream>
#include <sstream>

#include "kg/time/edtf_read.h"
#include "kg/time/span.h"
#include "kg/time/written.h"

using namespace saggar::time;

namespace {

struct Row {
    std::string section;
    std::vector<std::string> cells;
};

// The cells between back quotes or bars of every table row whose first cell is a quotation.
std::vector<Row> rows_of_document() {
    std::ifstream file(std::string(SAGGAR_SOURCE_DIR) + "/kg/time/WRITTEN.md");
    REQUIRE(file);
    std::vector<Row> rows;
    std::string section;
    for (std::string line; std::getline(file, line);) {
        if (line.rfind("## ", 0) == 0) section = line.substr(3);
        if (line.rfind("| `", 0) != 0) continue;
        Row row{section, {}};
        std::stringstream cells(line.substr(2));
        for (std::string cell; std::getline(cells, cell, '|');) {
            const auto open = cell.find('`');
            const auto close = cell.rfind('`');
            if (open != std::string::npos) {
                cell = cell.substr(open + 1, close - open - 1);
            } else {
                cell.erase(0, cell.find_first_not_of(' '));
                cell.erase(cell.find_last_not_of(' ') + 1);
            }
            row.cells.push_back(cell);
        }
        rows.push_back(row);
    }
    return rows;
}

std::string shown(const std::vector<WrittenDate>& dates) {
    std::string text;
    for (const auto& date : dates) {
        text += (text.empty() ? "" : "; ") + date.label + (date.label.empty() ? "" : " ") + date.edtf;
    }
    return text;
}

}  // namespace

TEST_CASE("every form of the document is read as it says") {
    int read = 0;
    int refused = 0;
    for (const Row& row : rows_of_document()) {
        const std::string& text = row.cells.at(0);
        INFO(row.section << ": " << text);
        const auto dates = read_written(text);
        if (row.section == "Refused") {
            ++refused;
            REQUIRE_FALSE(dates);
            CHECK(text.substr(dates.error.offset, dates.error.length) == row.cells.at(1));
            CHECK(dates.error.id == row.cells.at(2));
            CHECK_FALSE(dates.error.reason.empty());
            CHECK_FALSE(dates.error.next_step.empty());
            continue;
        }
        ++read;
        INFO(dates.error.id << ": " << dates.error.reason);
        REQUIRE(dates);
        CHECK(shown(*dates) == row.cells.at(1));
        for (const auto& date : *dates) {
            CHECK(read_edtf(date.edtf));
            CHECK(text.substr(date.offset, date.words.size()) == date.words);
        }
    }
    CHECK(read > 100);
    CHECK(refused > 30);
}

TEST_CASE("the words of each phase are kept") {
    const auto dates = read_written("pattern introduced ca. 1878, manufactured ca. 1901");
    REQUIRE(dates);
    REQUIRE(dates->size() == 2);
    CHECK((*dates)[0].words == "pattern introduced ca. 1878");
    CHECK((*dates)[1].words == "manufactured ca. 1901");
    CHECK((*dates)[1].offset == 29);
}

TEST_CASE("capitals, blanks and kinds of dash make no difference") {
    for (const char* text :
         {"CA. 1931\u20131934", "  ca.1931 -  1934 ", "ca.\u00A01931 \u2014 1934", "Ca 1931\u22121934"}) {
        INFO(text);
        const auto dates = read_written(text);
        REQUIRE(dates);
        CHECK(dates->front().edtf == "1931~/1934~");
    }
}

TEST_CASE("blank cells have no date") {
    for (const char* text : {"", "    ", "\t\n"}) {
        const auto dates = read_written(text);
        REQUIRE_FALSE(dates);
        CHECK(dates.error.id == "written-empty");
    }
}

TEST_CASE("a field of EDTF takes written dates too, and EDTF first") {
    CHECK(read_edtf_or_written("1901-02")->front().edtf == "1901-02");
    CHECK(read_edtf_or_written("1935~")->front().edtf == "1935~");
    CHECK(read_edtf_or_written("1931-34")->front().edtf == "1931/1934");    // not the second quarter
    CHECK(read_edtf_or_written("[1931-34]")->front().edtf == "[1931-34]");  // the second quarter
    CHECK(read_edtf_or_written("1948-22")->front().edtf == "1948-22");      // a summer: 22 is before 48
    CHECK(read_edtf_or_written("1918-22").error.id == "written-ambiguous");
    CHECK(read_edtf_or_written("ca. 1935")->front().edtf == "1935~");
    CHECK(read_edtf_or_written("1960-06-31").error.offset == 8);
    CHECK(read_edtf_or_written("[1667,1668, 1670..1672]").error.offset == 11);
    CHECK(read_edtf_or_written("before the flood").error.offset == 11);
}

TEST_CASE("a year at every place of every form stays inside what is read") {
    // For each form with one year the bounds follow the year when it changes.
    for (int year = 1801; year <= 1999; ++year) {
        const std::string y = std::to_string(year);
        const auto about = read_span(read_written("ca. " + y)->front().edtf, {.about = 5});
        REQUIRE(about);
        CHECK(about->earliest == day_of({year - 5, 1, 1}));
        CHECK(about->latest == day_of({year + 5, 12, 31}));
        CHECK(read_span(read_written("before " + y)->front().edtf)->latest == day_of({year - 1, 12, 31}));
        CHECK(read_span(read_written("after " + y)->front().edtf)->earliest == day_of({year + 1, 1, 1}));
        CHECK(read_span(read_written("by " + y)->front().edtf)->latest == day_of({year, 12, 31}));
    }
}
