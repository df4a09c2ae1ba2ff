// Which pattern a source is cited by: the evidence kind of the profile or a CSL type, and the fields that are filled.
#pragma once

#include <string_view>

#include "kg/model/record.h"

namespace saggar {

enum class CitePattern {
    paper,    // anything kept in an archive: memo, journal, ledger, order book, minutes, photograph, price list
    letter,   // A to B
    book,     // book, guide, printed catalogue, report
    article,  // in a periodical: article, trade notice, advertisement, newspaper
    chapter,  // in a book
    thesis,
    web_page,
    interview,     // also captions of a recording
    conversation,  // conversation, message, hearsay
    artwork,       // an object as a catalogue gives it: maker, title, date, medium, dimensions, holder, number
    piece,         // a piece in hand: description, holder, number, who examined it and when
};

CitePattern cite_pattern(const Source& source);

// The evidence kind; where none is given, the CSL type.
std::string_view cite_type(const Source& source);

// What kind of paper it is, in a word a note can use: "memorandum", "photograph", "order book"; empty where the kind is
// not worth a word or its title mostly says it.
std::string_view kind_in_note(std::string_view type);

// A field by its CSL name out of Source::more; empty where it is not filled.
std::string_view csl_field(const Source& source, std::string_view name);

}  // namespace saggar
