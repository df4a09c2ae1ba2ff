#include "queries/path.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {

// A vocabulary with the names that section 9 of the SPARQL 1.1 Recommendation uses, ':' written as '-'.
const Vocabulary& examples() {
    static const Vocabulary vocabulary = [] {
        std::string text = R"({"vocabulary": "examples", "version": "1", "kinds": {"thing": {"label": "thing"}}, "relations": {)";
        bool first = true;
        for (const char* name : {"dc-title", "rdfs-label", "foaf-mbox", "foaf-knows", "foaf-name", "ex-mother", "ex-father",
                                 "rdf-type", "rdfs-subclass", "rdf-rest", "rdf-first", "a", "b", "c"}) {
            if (!first) text += ',';
            first = false;
            text += std::string("\"") + name + R"(": {"from": ["thing"], "to": ["thing"], "inverse": ")" + name +
                    R"(-of", "label": "x"})";
        }
        text += R"(, "same": {"from": ["*"], "to": ["*"], "symmetric": true, "label": "same"}}})";
        Problems problems;
        auto read = Vocabulary::parse(text, problems);
        REQUIRE(read);
        return *read;
    }();
    return vocabulary;
}

std::string shown(const PathSymbol& symbol) {
    std::string out;
    for (const RelationIndex r : symbol.forward) out += (out.empty() ? "" : "|") + examples().relation(r).name;
    for (const RelationIndex r : symbol.inverse) out += (out.empty() ? "^" : "|^") + examples().relation(r).name;
    if (symbol.negated) out = "!(" + out + ")";
    return out;
}

// The path with every bracket written, and "seq(…)" and the like in place of signs: shows how it was understood.
std::string shown(const PathExpression& path) {
    std::vector<std::string> stack;
    for (const PathStep& step : path.postfix) {
        if (step.op == PathOperator::symbol) {
            stack.push_back(shown(path.symbols[step.symbol]));
            continue;
        }
        const std::string part = stack.back();
        stack.pop_back();
        switch (step.op) {
            case PathOperator::sequence: stack.back() = "seq(" + stack.back() + ", " + part + ")"; break;
            case PathOperator::alternative: stack.back() = "alt(" + stack.back() + ", " + part + ")"; break;
            case PathOperator::zero_or_more: stack.push_back("star(" + part + ")"); break;
            case PathOperator::one_or_more: stack.push_back("plus(" + part + ")"); break;
            case PathOperator::zero_or_one: stack.push_back("opt(" + part + ")"); break;
            case PathOperator::inverse: stack.push_back("inv(" + part + ")"); break;
            case PathOperator::symbol: break;
        }
    }
    REQUIRE(stack.size() == 1);
    return stack.back();
}

Problem fault_of(const std::string& text) {
    Problems problems;
    CHECK_FALSE(parse_path(text, examples(), problems));
    REQUIRE(problems.errors() == 1);
    return problems.list().front();
}

}  // namespace

TEST_CASE("paths are understood as SPARQL 1.1 says", "[path]") {
    struct Row {
        const char* path;
        const char* understood;
    };
    const std::vector<Row> rows{
        // SPARQL 1.1 Query Language, W3C Recommendation 21 March 2013, section 9.2, examples in their order.
        {"dc-title|rdfs-label", "alt(dc-title, rdfs-label)"},
        {"foaf-knows/foaf-name", "seq(foaf-knows, foaf-name)"},
        {"foaf-knows/foaf-knows/foaf-name", "seq(seq(foaf-knows, foaf-knows), foaf-name)"},
        {"^foaf-mbox", "inv(foaf-mbox)"},
        {"foaf-knows/^foaf-knows", "seq(foaf-knows, inv(foaf-knows))"},
        {"foaf-knows+/foaf-name", "seq(plus(foaf-knows), foaf-name)"},
        {"(ex-mother|ex-father)+", "plus(alt(ex-mother, ex-father))"},
        {"rdf-type/rdfs-subclass*", "seq(rdf-type, star(rdfs-subclass))"},
        {"!(rdf-type|^rdf-type)", "!(rdf-type|^rdf-type)"},
        {"rdf-rest*/rdf-first", "seq(star(rdf-rest), rdf-first)"},
        // Section 9.1: precedence, highest first: groups, * ? +, ^, /, |; left to right within groups.
        {"a|b/c", "alt(a, seq(b, c))"},
        {"a/b|c", "alt(seq(a, b), c)"},
        {"a|b|c", "alt(alt(a, b), c)"},
        {"^a*", "inv(star(a))"},
        {"(^a)*", "star(inv(a))"},
        {"^a/b", "seq(inv(a), b)"},
        {"^(a/b)", "inv(seq(a, b))"},
        {"a?/b", "seq(opt(a), b)"},
        {"(a|b)?|c+", "alt(opt(alt(a, b)), plus(c))"},
        {"((a))", "a"},
        {"(a+)?", "opt(plus(a))"},
        // Section 9.1: "!iri is short for !(iri)"; the order in a negated set is not significant.
        {"!a", "!(a)"},
        {"!(a)", "!(a)"},
        {"!^a", "!(^a)"},
        {"!(^b|a|c)", "!(a|c|^b)"},
        {"!(c|^b|a)", "!(a|c|^b)"},
        {"!()", "!()"},
        {"!a/b", "seq(!(a), b)"},
        {"(!a)+", "plus(!(a))"},
        {"!a*", "star(!(a))"},
        {"^!a", "inv(!(a))"},
        // Own: inverse names, blanks, symmetric relations.
        {"a-of", "^a"},
        {"^a-of", "inv(^a)"},
        {"!a-of", "!(^a)"},
        {"!^a-of", "!(a)"},
        {" a \t/\n b ", "seq(a, b)"},
        {"! ( a | ^ b )", "!(a|^b)"},
        {"same", "same"},
        {"!same", "!(same|^same)"},
    };
    for (const Row& row : rows) {
        INFO(row.path);
        Problems problems;
        const auto path = parse_path(row.path, examples(), problems);
        REQUIRE(path);
        CHECK(shown(*path) == row.understood);
        CHECK_FALSE(problems.any_error());
    }
}

TEST_CASE("a faulty path has its place and a next step", "[path]") {
    struct Row {
        const char* path;
        const char* id;
        std::uint32_t column, length;
    };
    const std::vector<Row> rows{
        {"", "path-ends-early", 1, 0},
        {"a/", "path-ends-early", 3, 0},
        {"(a", "path-bracket", 1, 1},
        {"b/(a|c", "path-bracket", 3, 1},
        {"a)", "path-bracket", 2, 1},
        {"()", "path-no-element", 2, 1},
        {"/a", "path-no-element", 1, 1},
        {"a//b", "path-no-element", 3, 1},
        {"a b", "path-no-operator", 3, 1},
        {"a^b", "path-no-operator", 2, 1},
        {"(a)(b)", "path-no-operator", 4, 1},
        {"^^a", "path-double-inverse", 2, 1},
        {"a**", "path-double-modifier", 3, 1},
        {"a+?", "path-double-modifier", 3, 1},
        {"*", "path-no-element", 1, 1},
        {"a{2}", "path-bad-sign", 2, 1},
        {"a/foaf-konws", "path-unknown-relation", 3, 10},
        {"rdf:type", "path-unknown-relation", 1, 8},
        {"<http://example/p>", "path-no-element", 1, 1},
        {"!(a", "path-bracket", 2, 1},
        {"!(a/b)", "path-negated-set", 4, 1},
        {"!(a|)", "path-negated-set", 5, 1},
        {"!(a|(b))", "path-negated-set", 5, 1},
        {"!", "path-negated-set", 2, 0},
        {"!!a", "path-negated-set", 2, 1},
        {"!^^a", "path-negated-set", 3, 1},
        {"s\xC3\xA8vres|a", "path-unknown-relation", 1, 6},
        {"a/\xC3\xA8|b", "path-unknown-relation", 3, 1},
    };
    for (const Row& row : rows) {
        INFO(row.path);
        const Problem problem = fault_of(row.path);
        CHECK(problem.id == row.id);
        CHECK(problem.place.column == row.column);
        CHECK(problem.place.length == row.length);
        CHECK_FALSE(problem.next_step.empty());
    }
}

TEST_CASE("the problem reads well", "[path]") {
    CHECK(to_text(fault_of("(a|foaf-konws)+")) ==
          "error: \"foaf-konws\" is no relation of the vocabulary \"examples\" (did you mean \"foaf-knows\"?) "
          "[path-unknown-relation]\n"
          "    (a|foaf-konws)+\n"
          "       ^~~~~~~~~~\n"
          "    next: use the name or the inverse name of a relation\n");
}

TEST_CASE("no text overflows or stalls the parser", "[path]") {
    Problems problems;
    CHECK(parse_path(std::string(2000, '(') + "a" + std::string(2000, ')'), examples(), problems));
    CHECK(fault_of(std::string(4096, '(')).id == "path-ends-early");
    CHECK(fault_of(std::string(4097, 'a')).id == "path-too-long");
    CHECK(fault_of(std::string(1000000, '(')).id == "path-too-long");
    std::string steps = "a";
    for (std::size_t i = 1; i < most_path_symbols; ++i) steps += "/a";
    CHECK(parse_path(steps, examples(), problems));
    CHECK(fault_of(steps + "/b").id == "path-too-long");
    CHECK(fault_of(steps + "/b").place.column == steps.size() + 2);
}

TEST_CASE("a path of all relations is at hand", "[path]") {
    CHECK(shown(any_path(examples())) == "plus(alt(!(), inv(!())))");
}
