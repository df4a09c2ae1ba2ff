// Pieces that full notes, short notes and bibliography entries share. For cite*.cpp only.
#pragma once

#include <string>
#include <string_view>

#include "queries/cite.h"
#include "queries/cite_kind.h"
#include "queries/cite_name.h"

namespace saggar::citing {

// A letter's or memo's two ends, from the fields or from a title of the form "A to B".
struct Ends {
    std::string from, to;
};
bool read_ends(const Source& source, Ends& ends);

// The author as written in the fields; empty where the title names the author already.
std::string author_for_note(const Source& source);
bool title_names_author(const Source& source);

// The title, or the kind in a word where there is none ("memorandum", "conversation").
std::string title_or_kind(const Source& source);
// True where the title already says what kind of thing it is.
bool title_says_kind(const Source& source);

// "Ware from the Quay, second edition": then the edition is not told again.
bool title_says_edition(const Source& source);

// "issued" in words; empty where the title tells it already.
std::string date_for_note(const Source& source, const CiteStyle& style);

// Adds ", box 3, folder 12, call number, collection, repository, place".
void add_keeping(CitedText& note, const Source& source);
// "box 3" from "3"; "Box 3" and "roll 4" stay as they are.
std::string numbered(std::string_view word, std::string_view number);

// "https://…" out of url or DOI; empty where there is none.
std::string address_of(const Source& source);

std::string capitalised(std::string_view text);
void add_part(CitedText& note, std::string_view part, std::string_view separator = ", ");

}  // namespace saggar::citing

namespace saggar {

// Notes without quotation and full stop (cite.h, open_note).
CitedText open_full_note(const Source& source, std::string_view at, const CiteStyle& style);
// The source as cited where the text names the author: neither author nor a title that begins with the name.
Source without_author(Source source);
CitedText open_short_note(const Source& source, std::string_view at, const CiteStyle& style);

}  // namespace saggar
