#include "queries/cite_notes.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {

Source book(const std::string& key, const std::string& author, const std::string& title) {
    Source s;
    s.key = key;
    s.type = "book";
    s.author = author;
    s.title = title;
    s.issued = "1974";
    s.more = {{"publisher", "Plain Press"}};
    return s;
}

}  // namespace

TEST_CASE("the first mention is full, later ones are short, equal ones share a number") {
    const auto quill = book("source:q", "Ada Quill", "The Guide"), orme = book("source:o", "Jon Orme", "Marks");
    Notes notes;
    CHECK(notes.number_of(quill, "page=3", "") == 1);
    CHECK(notes.number_of(orme, "", "") == 2);
    CHECK(notes.number_of(quill, "page=9", "") == 3);
    CHECK(notes.number_of(quill, "page=3", "") == 1);
    CHECK(notes.number_of(quill, "page=11", "") == 4);
    REQUIRE(notes.texts().size() == 4);
    CHECK(to_plain(notes.texts()[0]) == "Ada Quill, The Guide (Plain Press, 1974), 3.");
    CHECK(to_plain(notes.texts()[2]) == "Quill, Guide, 9.");
    CHECK(to_plain(notes.texts()[3]) == "Quill, Guide, 11.");
    REQUIRE(notes.bibliography().size() == 2);
    CHECK(notes.bibliography()[0].key == "source:o");
}

TEST_CASE("ibid. only where asked for, and only for the note just before") {
    const auto quill = book("source:q", "Ada Quill", "The Guide"), orme = book("source:o", "Jon Orme", "Marks");
    CiteStyle style;
    style.ibid = true;
    Notes notes(style);
    notes.number_of(quill, "page=3", "");
    notes.number_of(quill, "page=9", "");
    notes.number_of(orme, "", "");
    notes.number_of(quill, "page=11", "");
    CHECK(to_plain(notes.texts()[1]) == "Ibid., p. 9.");
    CHECK(to_plain(notes.texts()[3]) == "Quill, Guide, 11.");
}
