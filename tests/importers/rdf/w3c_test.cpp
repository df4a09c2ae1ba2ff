// The W3C test suites of N-Triples, N-Quads, Turtle and TriG (see w3c/README.md): all cases, all kinds.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "importers/rdf/quad_reader.h"
#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::rdf;

namespace {

struct Parsed {
    std::vector<Quad> quads;
    Problems problems;
};

Parsed parse(std::string_view text, Syntax syntax, const std::string& base) {
    Parsed parsed;
    TextInput input("case", open_bytes(text), parsed.problems);
    read_quads(input, {syntax, base}, [&](const Quad& quad, const Spot&) { parsed.quads.push_back(quad); }, parsed.problems);
    return parsed;
}

// Quads with blank nodes named by what is said of them, as far as needed to tell them apart: colours are refined until they
// stay, then one of a tied class is singled out, trying all.
using Colours = std::map<std::string, std::string>;

std::string shown(const std::string& term, const Colours& colours) {
    const auto found = colours.find(term);
    return found == colours.end() ? term : "_:" + found->second;
}

std::string form(const std::vector<Quad>& quads, Colours colours, int budget) {
    for (std::size_t round = 0; round <= colours.size(); ++round) {
        std::map<std::string, std::multiset<std::string>> said;
        for (const Quad& q : quads) {
            const std::string* const terms[] = {&q.subject, &q.predicate, &q.object, &q.graph};
            for (const std::string* own : terms) {
                if (!colours.count(*own)) continue;
                std::string line;
                for (const std::string* one : terms) line += (*one == *own ? "*" : "") + shown(*one, colours) + " ";
                said[*own].insert(line);
            }
        }
        std::map<std::string, std::string> numbers;
        std::map<std::string, std::string> signature;
        for (const auto& [blank, colour] : colours) {
            signature[blank] = colour + "|";
            for (const std::string& line : said[blank]) signature[blank] += line + "\n";
            numbers[signature[blank]];
        }
        int next = 0;
        for (auto& [text, number] : numbers) number = std::to_string(next++);
        Colours refined;
        for (const auto& [blank, colour] : colours) refined[blank] = numbers[signature[blank]];
        if (refined == colours) break;
        colours = refined;
    }
    std::map<std::string, std::vector<std::string>> classes;
    for (const auto& [blank, colour] : colours) classes[colour].push_back(blank);
    for (const auto& [colour, members] : classes) {
        if (members.size() < 2 || budget == 0) continue;
        std::string best;
        for (const std::string& one : members) {
            Colours tried = colours;
            tried[one] += "x";
            const std::string got = form(quads, tried, budget - 1);
            if (best.empty() || got < best) best = got;
        }
        return best;
    }
    std::set<std::string> lines;
    for (const Quad& q : quads) {
        lines.insert(nquads_line({shown(q.subject, colours), q.predicate, shown(q.object, colours), shown(q.graph, colours)}));
    }
    std::string all;
    for (const std::string& line : lines) all += line;
    return all;
}

std::string form(const std::vector<Quad>& quads) {
    Colours colours;
    for (const Quad& q : quads) {
        for (const std::string* term : {&q.subject, &q.object, &q.graph}) {
            if (is_blank(*term)) colours[*term] = "0";
        }
    }
    return form(quads, colours, 4);
}

// `wanted`: how many cases the manifest of the suite has.
void run_suite(const std::string& file, Syntax syntax, Syntax result_syntax, std::size_t wanted) {
    std::ifstream in(std::string(SAGGAR_SOURCE_DIR) + "/tests/importers/rdf/w3c/" + file);
    const auto suite = nlohmann::json::parse(in);
    CHECK(suite["cases"].size() == wanted);
    for (const auto& one : suite["cases"]) {
        const std::string name = one["name"];
        const std::string kind = one["kind"];
        const std::string base = one["base"];
        const std::string input = one["input"];
        const bool lines = syntax == Syntax::ntriples || syntax == Syntax::nquads;
        const Parsed parsed = parse(input, syntax, lines ? "" : base);
        INFO(suite["suite"].get<std::string>() << " " << name << "\n" << input << test::all_problems(parsed.problems));
        if (input.find('\0') != std::string::npos) {  // the graph holds no NUL, so such a text is refused
            REQUIRE(parsed.problems.any_error());
            CHECK(parsed.problems.list().front().id == "text-bad-byte");
            continue;
        }
        CHECK(parsed.problems.any_error() == (kind == "negative"));
        if (kind != "evaluation") continue;
        const Parsed result = parse(one["result"].get<std::string>(), result_syntax, "");
        REQUIRE_FALSE(result.problems.any_error());
        CHECK(form(parsed.quads) == form(result.quads));
    }
}

}  // namespace

TEST_CASE("the W3C suite of N-Triples passes", "[rdf][w3c]") { run_suite("ntriples.json", Syntax::ntriples, Syntax::ntriples, 68); }
TEST_CASE("the W3C suite of N-Quads passes", "[rdf][w3c]") { run_suite("nquads.json", Syntax::nquads, Syntax::nquads, 85); }
TEST_CASE("the W3C suite of Turtle passes", "[rdf][w3c]") { run_suite("turtle.json", Syntax::turtle, Syntax::ntriples, 291); }
TEST_CASE("the W3C suite of TriG passes", "[rdf][w3c]") { run_suite("trig.json", Syntax::trig, Syntax::nquads, 335); }
