#include <catch2/catch.hpp>

#include "importers/csvw/datatype.h"

using namespace saggar::csvw;

namespace {

std::string number(std::string_view text, const std::string& pattern = "", bool exponent = true,
                   NumberFormat format = {}) {
    std::string why;
    if (!pattern.empty()) {
        const std::string group = format.group.empty() ? "," : format.group;
        format.pattern = NumberPattern::parse(pattern, format.decimal, group);
        REQUIRE(format.pattern);
        if (format.pattern->primary_group) format.group = group;
    }
    return read_number(text, format, exponent, why).value_or("no: " + why);
}

bool is_refused(const std::string& text) { return text.substr(0, 4) == "no: "; }

std::string date(std::string_view text, DateType type, std::string_view pattern = "") {
    std::string why;
    const auto read = read_date(text, type, pattern, why);
    return read ? read->text : "no: " + why;
}

}  // namespace

TEST_CASE("numbers without a pattern", "[csvw_formats]") {
    // Metadata Vocabulary, section 6.4.2: sign, digits and groups, fraction, exponent, percent and per mille; "-25%" is -0.25,
    // "1E6" is 1000000 (the section's own examples).
    struct Row {
        std::string text, plain;
    };
    for (const Row& row : std::vector<Row>{{"-25%", "-0.25"},
                                           {"1E6", "1000000"},
                                           {"0", "0"},
                                           {"+7", "7"},
                                           {"007", "7"},
                                           {"1.50", "1.50"},
                                           {"-0.0", "0.0"},
                                           {".5", "0.5"},
                                           {"12\u2030", "0.012"},
                                           {"1.25E-2", "0.0125"},
                                           {"1e+2", "100"},
                                           {"NaN", "NaN"},
                                           {"-INF", "-INF"}}) {
        INFO(row.text);
        CHECK(number(row.text) == row.plain);
    }
    for (const std::string text : {"", "-", "1,5", "1.2.3", "one", "1 000", "1E", "0x10", "1%%", "--1", "1E999"}) {
        INFO(text);
        CHECK(is_refused(number(text)));
    }
    CHECK(is_refused(number("1E6", "", false)));
    CHECK(is_refused(number("NaN", "", false)));
    NumberFormat german;
    german.decimal = ",";
    german.group = ".";
    CHECK(number("10.000,1", "", true, german) == "10000.1");
    CHECK(is_refused(number("10..000", "", true, german)));
    CHECK(is_refused(number(".100", "", true, german)));
    CHECK(is_refused(number("100.", "", true, german)));
}

TEST_CASE("numbers with a pattern", "[csvw_formats]") {
    // Unicode Technical Standard 35, part 3, section 3: 0 is a digit that must be there, # one that may; "," groups; E an exponent.
    struct Row {
        std::string pattern, text, plain;  // plain empty: refused
    };
    for (const Row& row : std::vector<Row>{{"0", "5", "5"},
                                           {"0", "12345", "12345"},
                                           {"0", "1.0", ""},
                                           {"000", "12", ""},
                                           {"000", "012", "12"},
                                           {"#,##0", "1,234,567", "1234567"},
                                           {"#,##0", "999", "999"},
                                           {"#,##0", "1234", ""},
                                           {"#,##0", "12,34", ""},
                                           {"#,##,##0", "12,34,567", "1234567"},
                                           {"#,##,##0", "1,234,567", ""},
                                           {"0.00", "1.50", "1.50"},
                                           {"0.00", "1.5", ""},
                                           {"0.0#", "1.5", "1.5"},
                                           {"0.0#", "1.555", ""},
                                           {"0.##", "1", "1"},
                                           {"0.##", "1.", ""},
                                           {"#0.0#", "-3.25", "-3.25"},
                                           {"+0", "+3", "3"},
                                           {"+0", "-3", "-3"},
                                           {"+0", "3", ""},
                                           {"0", "+3", ""},
                                           {"0E0", "1E3", "1000"},
                                           {"0E0", "1", ""},
                                           {"0E+00", "1E+03", "1000"},
                                           {"0E+00", "1E3", ""},
                                           {"0%", "25%", "0.25"},
                                           {"0%", "25", ""},
                                           {"0\u2030", "25\u2030", "0.025"},
                                           {"0", "25%", ""}}) {
        INFO(row.pattern << " " << row.text);
        if (row.plain.empty()) {
            CHECK(is_refused(number(row.text, row.pattern)));
        } else {
            CHECK(number(row.text, row.pattern) == row.plain);
        }
    }
    for (const std::string pattern : {"", "x", "0#", "0.#0", "0E", "#,", ",##0", "0.0.0", "^\\d+$"}) {
        INFO(pattern);
        CHECK_FALSE(NumberPattern::parse(pattern));
    }
    NumberFormat german;
    german.decimal = ",";
    german.group = ".";
    CHECK(number("1.234,50", "#.##0,00", true, german) == "1234.50");
}

TEST_CASE("dates and times by pattern", "[csvw_formats]") {
    struct Row {
        DateType type;
        std::string pattern, text, schema;  // schema empty: refused
    };
    // Metadata Vocabulary, section 6.4.4: its lists of date, time and date/time formats with its examples.
    for (const Row& row : std::vector<Row>{
             {DateType::date, "yyyy-MM-dd", "2015-03-22", "2015-03-22"},
             {DateType::date, "yyyyMMdd", "20150322", "2015-03-22"},
             {DateType::date, "dd-MM-yyyy", "22-03-2015", "2015-03-22"},
             {DateType::date, "d-M-yyyy", "22-3-2015", "2015-03-22"},
             {DateType::date, "MM-dd-yyyy", "03-22-2015", "2015-03-22"},
             {DateType::date, "M-d-yyyy", "3-22-2015", "2015-03-22"},
             {DateType::date, "dd/MM/yyyy", "22/03/2015", "2015-03-22"},
             {DateType::date, "d/M/yyyy", "22/3/2015", "2015-03-22"},
             {DateType::date, "MM/dd/yyyy", "03/22/2015", "2015-03-22"},
             {DateType::date, "M/d/yyyy", "3/22/2015", "2015-03-22"},
             {DateType::date, "dd.MM.yyyy", "22.03.2015", "2015-03-22"},
             {DateType::date, "d.M.yyyy", "22.3.2015", "2015-03-22"},
             {DateType::date, "MM.dd.yyyy", "03.22.2015", "2015-03-22"},
             {DateType::date, "M.d.yyyy", "3.22.2015", "2015-03-22"},
             {DateType::date, "yyyy-MM-ddX", "2015-03-22Z", "2015-03-22Z"},
             {DateType::date, "dd.MM.yyyy XXX", "22.03.2015 -05:00", "2015-03-22-05:00"},
             {DateType::time, "HH:mm:ss", "15:02:37", "15:02:37"},
             {DateType::time, "HHmmss", "150237", "15:02:37"},
             {DateType::time, "HH:mm", "15:02", "15:02:00"},
             {DateType::time, "HHmm", "1502", "15:02:00"},
             {DateType::time, "HH:mm x", "15:02 -05", "15:02:00-05:00"},
             {DateType::time, "HH:mm:ss.SSS", "15:02:37.123", "15:02:37.123"},
             {DateType::time, "HH:mm:ss.SSS", "15:02:37", "15:02:37"},
             {DateType::time, "HH:mm:ss.SSS", "15:02:37.1234", ""},
             {DateType::date_time, "yyyy-MM-ddTHH:mm:ss", "2015-03-15T15:02:37", "2015-03-15T15:02:37"},
             {DateType::date_time, "yyyy-MM-ddTHH:mm", "2015-03-15T15:02", "2015-03-15T15:02:00"},
             {DateType::date_time, "M/d/yyyy HH:mm", "3/22/2015 15:02", "2015-03-22T15:02:00"},
             {DateType::date_time, "dd.MM.yyyy HH:mm:ss", "22.03.2015 15:02:37", "2015-03-22T15:02:37"},
             {DateType::date_time, "yyyy-MM-ddTHH:mm:ssXXX", "2015-03-15T15:02:37Z", "2015-03-15T15:02:37Z"},
             {DateType::date_time, "yyyy-MM-ddTHH:mm:ssXXX", "2015-03-15T15:02:37-05:00", "2015-03-15T15:02:37-05:00"},
             {DateType::time, "HH:mmX", "15:02+0530", "15:02:00+05:30"},
             {DateType::time, "HH:mmX", "15:02-08", "15:02:00-08:00"},
             {DateType::time, "HH:mmXX", "15:02-0800", "15:02:00-08:00"},
             {DateType::time, "HH:mmXX", "15:02-08", ""},
             {DateType::time, "HH:mmx", "15:02Z", ""},
             {DateType::time, "HH:mmxxx", "15:02+05:30", "15:02:00+05:30"},
             {DateType::date, "yyyy-MM-dd", "2015-02-29", ""},
             {DateType::date, "yyyy-MM-dd", "15-03-22", ""},
             {DateType::date, "dd/MM/yyyy", "22-03-2015", ""},
             {DateType::date, "dd/MM/yyyy", "31/11/1948", ""},
             {DateType::time, "HH:mm", "25:02", ""}}) {
        INFO(row.pattern << " " << row.text);
        REQUIRE(is_date_pattern(row.pattern, row.type));
        if (row.schema.empty()) {
            CHECK(is_refused(date(row.text, row.type, row.pattern)));
        } else {
            CHECK(date(row.text, row.type, row.pattern) == row.schema);
        }
    }
    for (const std::string pattern :
         {"yyyy", "dd MMM yyyy", "yy-MM-dd", "yyyy/MM/dd", "HH:mm", "dd-MM-yyyyTHH", "yyyy-MM-dd HH.mm"}) {
        INFO(pattern);
        CHECK_FALSE(is_date_pattern(pattern, DateType::date));
        CHECK_FALSE(is_date_pattern(pattern, DateType::date_time));
    }
}

TEST_CASE("dates and times as XML Schema writes them", "[csvw_formats]") {
    // W3C XML Schema 1.1 part 2, section 3.3: lexical spaces of the date types.
    struct Row {
        DateType type;
        std::string text;
        bool good;
    };
    for (const Row& row : std::vector<Row>{{DateType::date, "1948-03-12", true},
                                           {DateType::date, "-0043-03-15", true},
                                           {DateType::date, "12000-01-01", true},
                                           {DateType::date, "1948-3-12", false},
                                           {DateType::date, "1948-03-12+14:00", true},
                                           {DateType::date, "1948-03-12+14:30", false},
                                           {DateType::date, "012000-01-01", false},
                                           {DateType::date_time, "1948-03-12T24:00:00", true},
                                           {DateType::date_time, "1948-03-12T24:00:01", false},
                                           {DateType::date_time, "1948-03-12T10:00:00.5Z", true},
                                           {DateType::date_time, "1948-03-12 10:00:00", false},
                                           {DateType::date_time_stamp, "1948-03-12T10:00:00", false},
                                           {DateType::date_time_stamp, "1948-03-12T10:00:00Z", true},
                                           {DateType::time, "10:00:60", false},
                                           {DateType::time, "10:00", false},
                                           {DateType::year, "1948", true},
                                           {DateType::year, "48", false},
                                           {DateType::year_month, "1948-13", false},
                                           {DateType::year_month, "1948-12", true},
                                           {DateType::month, "--12", true},
                                           {DateType::month_day, "--02-29", true},
                                           {DateType::month_day, "--02-30", false},
                                           {DateType::day, "---31", true},
                                           {DateType::day, "---32", false}}) {
        INFO(row.text);
        CHECK(is_refused(date(row.text, row.type)) != row.good);
    }
}

TEST_CASE("a regular expression that never ends is stopped", "[csvw_formats]") {
    const auto pattern = Pattern::compile("(a+)+b");
    REQUIRE(pattern);
    std::string why;
    CHECK_FALSE(pattern->matches(std::string(5000, 'a'), why));
    CHECK_FALSE(why.empty());
    CHECK_FALSE(Pattern::compile("(["));
    CHECK(Pattern::compile("[A-Z]\\d+")->matches("N12", why));
    CHECK_FALSE(Pattern::compile("[A-Z]\\d+")->matches("xN12", why));
    // A long value and a pattern that wants a stack frame for each sign: an answer, not a crash.
    Pattern::compile("(.|\\n)*")->matches(std::string(300000, 'a'), why);
}
