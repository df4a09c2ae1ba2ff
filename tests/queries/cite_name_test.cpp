#include "queries/cite_name.h"

#include <catch2/catch.hpp>

using namespace saggar;

// Forms: Chicago Manual of Style, 17th ed., 14.76 (two to ten authors).
TEST_CASE("names in notes and bibliographies") {
    const auto note = [](const char* text) { return names_for_note(read_names(text)); };
    const auto list = [](const char* text) { return names_for_bibliography(read_names(text)); };
    const auto brief = [](const char* text) { return names_for_short_note(read_names(text)); };
    CHECK(note("Quill, Ada") == "Ada Quill");
    CHECK(list("Ada Quill") == "Quill, Ada");
    CHECK(note("Ada Quill and Jon Orme") == "Ada Quill and Jon Orme");
    CHECK(list("Quill, Ada; Orme, Jon; Pell, Kit") == "Quill, Ada, Jon Orme, and Kit Pell");
    CHECK(note("A Quill; B Orme; C Pell; D Rusk") == "A Quill et al.");
    CHECK(brief("Quill, Ada; Orme, Jon") == "Quill and Orme");
    CHECK(list("Jabez Corvin and others") == "Corvin, Jabez and others");
    CHECK(brief("Jabez Corvin and others") == "Corvin and others");
    CHECK(note("").empty());
}

TEST_CASE("bodies are not turned round") {
    CHECK(names_for_bibliography(read_names("Calloway & Dunne")) == "Calloway & Dunne");
    CHECK(names_for_bibliography(read_names("Skerrow Pottery Company, Garrow Quay")) ==
          "Skerrow Pottery Company, Garrow Quay");
    CHECK(names_for_bibliography(read_names("Skerrow")) == "Skerrow");
}
