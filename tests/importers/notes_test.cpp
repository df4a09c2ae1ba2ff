#include "importers/notes.h"

#include <catch2/catch.hpp>

#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

TEST_CASE("notes: heading, description, claims, mentions", "[notes]") {
    const Collected read = read_good(R"(# Working *journal* {#source:journal-1948}

- type: journal
- box: 3
- author: Maud Ennersley

She writes of the [Lantern jug](item:lantern-jug)
and of **[Tern](shape:tern)**. See [the site](https://example.org).

| subject | relation | object | at | quote |
|---|---|---|:-:|---|
| [Lantern](shape:lantern) | modelled-by | person:ennersley | p. 12 | "I cut \| turned *it*" &amp; more |
| shape:lantern | comprises | article:jug |

| Number | Words |
|---|---|
| 7 | a [Halyard](shape:halyard) one |

## Loose sheet

Still the journal: [Orlop](shape:orlop).

# [The memo](source:memo)

Of [Fathom](shape:fathom).
)",
                                     "n.md");
    const Source source = read.only<Source>();
    CHECK(source.key == "source:journal-1948");
    CHECK(source.title == "Working journal");
    CHECK(source.type == "journal");
    CHECK(source.box == "3");
    const auto claims = read.all<Claim>();
    const auto evidence = read.all<Evidence>();
    REQUIRE(claims.size() == 7);
    CHECK(claims[0].subject == "source:journal-1948");
    CHECK(claims[0].relation == "documents");
    CHECK(claims[0].object.text == "item:lantern-jug");
    CHECK(evidence[0].quote == "She writes of the Lantern jug and of Tern. See the site.");
    CHECK(claims[1].object.text == "shape:tern");
    CHECK(claims[2].subject == "shape:lantern");
    CHECK(claims[2].relation == "modelled-by");
    CHECK(evidence[2].source == "source:journal-1948");
    CHECK(evidence[2].at == "p. 12");
    CHECK(evidence[2].quote == "\"I cut | turned it\" & more");
    CHECK(claims[3].relation == "comprises");
    CHECK(claims[4].object.text == "shape:halyard");
    CHECK(evidence[4].quote == "a Halyard one");
    CHECK(claims[5].subject == "source:journal-1948");
    CHECK(claims[6].subject == "source:memo");
    CHECK(evidence[6].source == "source:memo");
}

TEST_CASE("a heading without a key on the same level ends the source", "[notes]") {
    Problems problems;
    const Collected read =
        read_text("# A {#source:a}\n\n[x](shape:x)\n\n# Afterthoughts\n\n[y](shape:y)\n", "n.md", problems);
    CHECK(read.all<Claim>().size() == 1);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list()[0].id == "mention-without-source");
    CHECK(problems.list()[0].severity == Severity::warning);
    CHECK(problems.list()[0].place.line == 7);
}

TEST_CASE("a list that describes nothing is prose, and a heading alone does not overwrite a source", "[notes]") {
    const Collected read = read_good("# A {#source:a}\n\n- remember: buy [x](shape:x)\n- and more\n", "n.md");
    CHECK(read.all<Source>().empty());
    CHECK(read.all<Claim>().size() == 1);
}

TEST_CASE("places in notes", "[notes]") {
    Problems problems;
    read_text(
        "# A {#source:a}\n\n| subject | relation | object |\n|---|---|---|\n| shape:\u00e9 | made-by | maker:m |\n"
        "| shape:x | made-bye | maker:m |\n| shape:x | made-by | maker:m | too much |\n",
        "n.md", problems);
    REQUIRE(problems.errors() == 3);
    CHECK(problems.list()[0].place.line == 5);
    CHECK(problems.list()[0].place.column == 3);
    CHECK(problems.list()[1].id == "relation-unknown");
    CHECK(problems.list()[1].place.line == 6);
    CHECK(problems.list()[1].place.column == 13);
    CHECK(problems.list()[1].place.length == 8);
    CHECK(problems.list()[2].id == "table-long-row");
    CHECK(problems.list()[2].place.column == 33);
}

TEST_CASE("what Markdown does to hostile text stays text", "[notes]") {
    const Collected read = read_good("# A {#source:a}\n\n<script>alert(1)</script> [x](shape:x) <b>bold</b>\n", "n.md");
    // A raw HTML block has no links; the reader sees no Markdown in it.
    CHECK(read.all<Claim>().empty());
    const Collected inline_html = read_good("# A {#source:a}\n\nSee <b>[x](shape:x)</b> & more\n", "n.md");
    CHECK(inline_html.only<Evidence>().quote == "See <b>x</b> & more");
}
