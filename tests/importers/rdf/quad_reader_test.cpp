#include "importers/rdf/quad_reader.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::rdf;

namespace {

struct Read {
    std::vector<Quad> quads;
    std::vector<Spot> spots;
    Problems problems;
};

Read read(std::string_view text, Syntax syntax) {
    Read out;
    TextInput input("f", open_bytes(text), out.problems);
    read_quads(
        input, {syntax, ""},
        [&](const Quad& quad, const Spot& spot) {
            out.quads.push_back(quad);
            out.spots.push_back(spot);
        },
        out.problems);
    return out;
}

std::string id_of_first(const Read& out) { return out.problems.list().empty() ? "" : out.problems.list().front().id; }

}  // namespace

TEST_CASE("statements have the place of their object, lines their line", "[rdf][reader]") {
    const Read turtle = read("@prefix x: <http://x.example/> .\nx:a x:b x:c ,\n    \"two words\" ;\n  x:d [ x:e 5 ] .\n", Syntax::turtle);
    REQUIRE_FALSE(turtle.problems.any_error());
    REQUIRE(turtle.quads.size() == 4);
    CHECK(turtle.spots[0].line == 2);
    CHECK(turtle.spots[0].column == 9);
    CHECK(turtle.quads[1].object == "\"two words\"");
    CHECK(turtle.spots[1].line == 3);
    CHECK(turtle.spots[1].column == 5);
    CHECK(turtle.spots[3].line == 4);
    const Read lines = read("<a:b> <a:c> <a:d> .\n# remark\n<a:b> <a:c> \"\\u0041\\n\" <a:g> .\n", Syntax::nquads);
    REQUIRE(lines.quads.size() == 2);
    CHECK(lines.spots[1].line == 3);
    CHECK(lines.quads[1] == Quad{"<a:b>", "<a:c>", "\"A\\n\"", "<a:g>"});
}

TEST_CASE("a file in lines is read on after a bad line, and each bad line is told", "[rdf][reader]") {
    const Read out = read("<a:b> <a:c> <a:d> .\n<a:b> <a:c> .\n<a:b> <a:c> <a:e> .\n<a:b> nonsense\n<a:b> <a:c> \"unclosed\n<a:b> <a:c> <a:f> .",
                          Syntax::nquads);
    CHECK(out.quads.size() == 3);
    REQUIRE(out.problems.errors() == 3);
    CHECK(out.problems.list()[0].place.line == 2);
    CHECK(out.problems.list()[1].place.line == 4);
    CHECK(out.problems.list()[2].place.line == 5);
}

TEST_CASE("lines are counted through the pauses of the parser", "[rdf][reader]") {
    std::string text;
    for (int i = 1; i <= 50'000; ++i) text += i == 20'000 || i == 40'001 ? "bad\n" : "_:b" + std::to_string(i) + " <a:c> \"" + std::to_string(i) + "\" .\n";
    const Read out = read(text, Syntax::nquads);
    REQUIRE(out.quads.size() == 49'998);
    for (std::size_t i = 0; i < out.quads.size(); i += 777)
        REQUIRE(literal_of(out.quads[i].object).text == std::to_string(out.spots[i].line));
    CHECK(literal_of(out.quads.back().object).text == "50000");
    REQUIRE(out.problems.errors() == 2);
    CHECK(out.problems.list()[0].place.line == 20'000);
    CHECK(out.problems.list()[1].place.line == 40'001);
}

TEST_CASE("limits are problems with a place", "[rdf][reader]") {
    std::string deep = "<a:b> <a:c> ";
    for (int i = 0; i < 100'000; ++i) deep += "[ <a:d> ";
    CHECK(id_of_first(read(deep, Syntax::turtle)) == "rdf-too-deep");
    std::string lists = "<a:b> <a:c> " + std::string(100'000, '(');
    CHECK(id_of_first(read(lists, Syntax::turtle)) == "rdf-too-deep");
    // Brackets inside strings, IRIs and comments do not nest; nor does a quote in a comment open a string.
    std::string flat = "<a:b> <a:c> \"\"\"" + std::string(1000, '[') + "\"\"\" , '" + std::string(1000, '(') + "' . #" + std::string(1000, '{') + "\n";
    CHECK_FALSE(read(flat, Syntax::turtle).problems.any_error());
    const std::string nested = deep.substr(deep.find('['));
    std::string hidden = "<a:b> <a:c> <a:d>#\"\"\"\n ; <a:e> " + nested;
    CHECK(id_of_first(read(hidden, Syntax::turtle)) == "rdf-too-deep");
    std::string empty_string = "<a:b> <a:c> \"\" , " + nested;
    CHECK(id_of_first(read(empty_string, Syntax::turtle)) == "rdf-too-deep");
    const std::string longest = "<a:b> <a:c> \"" + std::string(ByteFeed::longest + 10, 'x') + "\" .";
    CHECK(id_of_first(read(longest, Syntax::turtle)) == "rdf-too-long");
    CHECK(id_of_first(read(longest, Syntax::nquads)) == "rdf-too-long");
    const std::string fits = "<a:b> <a:c> \"" + std::string(ByteFeed::longest - 100, 'x') + "\" .";
    CHECK(read(fits, Syntax::turtle).quads.size() == 1);
}

TEST_CASE("IRIs must be absolute and hold no forbidden sign", "[rdf][reader]") {
    CHECK(id_of_first(read("<b> <a:c> <a:d> .", Syntax::turtle)) == "rdf-relative-iri");
    CHECK(id_of_first(read("x:b <a:c> <a:d> .", Syntax::turtle)) == "rdf-no-prefix");
    for (const char* const bad : {"<a:d\\u0020e>", "<a:d\\u003Ee>", "<a:d e>", "<a:d^e>", "<a:d|e>", "<a:d\\n>"})
        CHECK(read("<a:b> <a:c> " + std::string(bad) + " .", Syntax::turtle).problems.any_error());
    CHECK(read("@base <http://x.example/y/> . <b> <a:c> <../d> .", Syntax::turtle).quads.at(0).object == "<http://x.example/d>");
}

TEST_CASE("hostile literals come through", "[rdf][reader]") {
    const std::string text = "\" \\ \n \r \t \xE2\x80\xAE bidi \xF0\x9F\xAB\x96 </script> \x7F end";
    for (const Syntax syntax : {Syntax::turtle, Syntax::trig, Syntax::ntriples, Syntax::nquads}) {
        const Read out = read("<a:b> <a:c> " + literal_term(text) + " .\n", syntax);
        REQUIRE(out.quads.size() == 1);
        CHECK(literal_of(out.quads[0].object).text == text);
    }
}
