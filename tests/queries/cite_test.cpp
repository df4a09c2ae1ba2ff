// Every evidence kind against a published guide's example; the source stands beside each case. Names and titles in the
// published cases are the guides' own; the others are invented.
#include "queries/cite.h"

#include <catch2/catch.hpp>

using namespace saggar;

namespace {

CiteStyle american() {
    CiteStyle style;
    style.dates = DateOrder::month_day;
    return style;
}

std::string note(const Source& source, const std::string& at = {}, const CiteStyle& style = {}) {
    return to_plain(full_note(source, at, {}, style));
}
std::string brief(const Source& source, const CiteStyle& style = {}) {
    return to_plain(short_note(source, {}, {}, style));
}
std::string entry(const Source& source, const CiteStyle& style = {}) {
    return to_plain(bibliography_entry(source, style));
}

}  // namespace

// Chicago Manual of Style Online, Q&A "Documentation", faq0480: "George Creel to Colonel House, September 25, 1918,
// box 31, folder 986, Edward Mandell House Papers, Yale University Library."
TEST_CASE("a letter in an archive") {
    Source s;
    s.type = "letter";
    s.author = "George Creel";
    s.more = {{"recipient", "Colonel House"}};
    s.issued = "1918-09-25";
    s.box = "31";
    s.folder = "986";
    s.collection = "Edward Mandell House Papers";
    s.archive = "Yale University Library";
    CHECK(note(s, {}, american()) ==
          "George Creel to Colonel House, September 25, 1918, box 31, folder 986, Edward Mandell House Papers, Yale "
          "University Library.");
    CHECK(brief(s, american()) == "Creel to House, September 25, 1918, Edward Mandell House Papers.");
}

// The guide's letter again, with a title that tells the date: the entry prints no title, so it must not lose the date.
TEST_CASE("a letter or memo whose title tells its date keeps it in the bibliography") {
    Source s;
    s.type = "letter";
    s.title = "Mairin Mitchell to Desmond Ryan, 2 February 1940";
    s.author = "Mairin Mitchell";
    s.issued = "1940-02-02";
    s.collection = "Papers of Desmond Ryan";
    CHECK(entry(s) == "Mitchell, Mairin. Letter to Desmond Ryan, 2 February 1940. Papers of Desmond Ryan.");
    CHECK(note(s) == "Mairin Mitchell to Desmond Ryan, 2 February 1940, Papers of Desmond Ryan.");
    s.type = "memo";
    CHECK(entry(s) == "Mitchell, Mairin. Memorandum to Desmond Ryan, 2 February 1940. Papers of Desmond Ryan.");
}

// UCD Library, "Chicago Style Guide 17th Edition: Archival or Manuscript Collections": note "Mairin Mitchell to
// Desmond Ryan, 2 February 1940, UCDA LA10/146, Papers of Desmond Ryan, UCD Archives, University College Dublin
// Library, Ireland."; one item cited: "Mitchell, Mairin. Letter to Desmond Ryan, 2 February 1940. Papers of Desmond
// Ryan. UCD Archives. …" (the guide leaves the reference code out of the entry; we keep it, a reader needs it).
TEST_CASE("a letter named by its title, with a reference code") {
    Source s;
    s.type = "letter";
    s.title = "Mairin Mitchell to Desmond Ryan";
    s.author = "Mairin Mitchell";
    s.issued = "1940-02-02";
    s.collection = "Papers of Desmond Ryan";
    s.archive = "UCD Archives, University College Dublin Library";
    s.place = "Ireland";
    CHECK(entry(s) ==
          "Mitchell, Mairin. Letter to Desmond Ryan, 2 February 1940. Papers of Desmond Ryan. UCD Archives, University "
          "College Dublin Library, Ireland.");
    s.more = {{"call-number", "UCDA LA10/146"}};
    CHECK(note(s) ==
          "Mairin Mitchell to Desmond Ryan, 2 February 1940, UCDA LA10/146, Papers of Desmond Ryan, UCD Archives, "
          "University College Dublin Library, Ireland.");
}

// Chicago Manual of Style Online, Q&A "Documentation", faq0480, second example (the part before the series numbers):
// "House, diary, September 25, 1918, Edward Mandell House Papers, Yale University Library".
TEST_CASE("an entry of a journal") {
    Source s;
    s.type = "diary";
    s.author = "House";
    s.issued = "1918-09-25";
    s.collection = "Edward Mandell House Papers";
    s.archive = "Yale University Library";
    CHECK(note(s, {}, american()) ==
          "House, diary, September 25, 1918, Edward Mandell House Papers, Yale University Library.");
}

// Dalhousie Libraries, "Archival Research: Chicago": "Typescript of short story Brothers and Sisters by Budge Wilson,
// 2000, MS-2-650.2013-070, Box 3, Folder 9, Budge Wilson fonds, Dalhousie University Archives, Halifax, Nova Scotia,
// Canada". We put the reference code after box and folder, the order of the Manual's own example above.
TEST_CASE("a typescript with box, folder and reference code") {
    Source s;
    s.type = "manuscript";
    s.title = "Typescript of short story Brothers and Sisters by Budge Wilson";
    s.author = "Budge Wilson";
    s.issued = "2000";
    s.box = "Box 3";
    s.folder = "Folder 9";
    s.more = {{"call-number", "MS-2-650.2013-070"}};
    s.collection = "Budge Wilson fonds";
    s.archive = "Dalhousie University Archives";
    s.place = "Halifax, Nova Scotia, Canada";
    CHECK(note(s) ==
          "Typescript of short story Brothers and Sisters by Budge Wilson, 2000, Box 3, Folder 9, MS-2-650.2013-070, "
          "Budge Wilson fonds, Dalhousie University Archives, Halifax, Nova Scotia, Canada.");
}

// Southern New Hampshire University, "Chicago Style: Primary Sources" (after the Manual, 14.229): "Minutes of the
// Committee for Improving the Condition of the Free Blacks, Pennsylvania Abolition Society, 1790–1803, Papers of the
// Pennsylvania Society for the Abolition of Slavery, Historical Society of Pennsylvania, Philadelphia."
TEST_CASE("minutes over several years") {
    Source s;
    s.type = "minutes";
    s.title = "Minutes of the Committee for Improving the Condition of the Free Blacks, Pennsylvania Abolition Society";
    s.issued = "1790/1803";
    s.collection = "Papers of the Pennsylvania Society for the Abolition of Slavery";
    s.archive = "Historical Society of Pennsylvania";
    s.place = "Philadelphia";
    CHECK(note(s) ==
          "Minutes of the Committee for Improving the Condition of the Free Blacks, Pennsylvania Abolition Society, "
          "1790\u20131803, Papers of the Pennsylvania Society for the Abolition of Slavery, Historical Society of "
          "Pennsylvania, Philadelphia.");
}

// Memorial University Libraries, "Chicago citation style": "St. John's from South Side [Photo], c.1889, 1.01.001,
// COLL-503, S. H. Parsons Views of Newfoundland Photograph Album, Archives & Special Collections, …". The kind stands
// in our own form after the title; an approximate date has the Manual's "ca.".
TEST_CASE("a photograph") {
    Source s;
    s.type = "photograph";
    s.title = "St. John's from South Side";
    s.issued = "1889~";
    s.more = {{"call-number", "1.01.001, COLL-503"}};
    s.collection = "S. H. Parsons Views of Newfoundland Photograph Album";
    s.archive = "Archives & Special Collections, Queen Elizabeth II Library, Memorial University Libraries";
    s.place = "St. John's, NL";
    CHECK(note(s) ==
          "St. John's from South Side, photograph, ca. 1889, 1.01.001, COLL-503, S. H. Parsons Views of Newfoundland "
          "Photograph Album, Archives & Special Collections, Queen Elizabeth II Library, Memorial University "
          "Libraries, St. John's, NL.");
}

// Douglas College Library, "Chicago: Further Examples": note "Prudence Heward, In Bermuda, 1939, painting,
// (63.6x56cm), National Gallery of Canada, Ottawa."; Santa Fe College, "Chicago Citation Guide: Art": order artist,
// title, date, medium, dimensions, museum, location, object number.
TEST_CASE("an object as a catalogue gives it") {
    Source s;
    s.type = "artwork";
    s.title = "In Bermuda";
    s.author = "Prudence Heward";
    s.issued = "1939";
    s.more = {{"dimensions", "(63.6x56cm)"}, {"medium", "painting"}};
    s.archive = "National Gallery of Canada";
    s.place = "Ottawa";
    CHECK(note(s) == "Prudence Heward, In Bermuda, 1939, painting, (63.6x56cm), National Gallery of Canada, Ottawa.");
    CHECK(to_markdown(full_note(s)).find("*In Bermuda*") != std::string::npos);
    s.more = {{"call-number", "object no. 1991.20.2"}};
    CHECK(note(s) == "Prudence Heward, In Bermuda, 1939, National Gallery of Canada, Ottawa, object no. 1991.20.2.");
}

// Chicago Manual of Style Online, Q&A "Documentation", faq0386: object without a maker: description, medium,
// dimensions, museum. That an examined piece names who examined it and when is our own rule.
TEST_CASE("a piece in hand and a mark on it") {
    Source s;
    s.key = "piece:jug";
    s.type = "piece";
    s.title = "Unmarked Halyard jug";
    s.author = "Hester Quance";
    s.issued = "2019-05-04";
    s.more = {{"call-number", "acc. 1994.7"}, {"dimensions", "176 mm high"}, {"medium", "glazed earthenware"}};
    s.archive = "Garrow Quay Museum";
    s.place = "Garrow Quay";
    CHECK(to_plain(full_note(s, "under the handle", "IK")) ==
          "Unmarked Halyard jug, glazed earthenware, 176 mm high, Garrow Quay Museum, Garrow Quay, acc. 1994.7, under "
          "the handle, "
          "examined by Hester Quance, 4 May 2019: \u201CIK.\u201D");
    CHECK(entry(s) ==
          "Unmarked Halyard jug. Glazed earthenware, 176 mm high. Garrow Quay Museum, Garrow Quay. acc. 1994.7.");
}

// Douglas College Library, "Chicago: Further Examples" (after the Manual, 14.214): "Karen Klips, email message to
// author, June 21, 2018."
TEST_CASE("a message and a conversation") {
    Source s;
    s.type = "message";
    s.title = "email message to author";
    s.author = "Karen Klips";
    s.issued = "2018-06-21";
    CHECK(note(s, {}, american()) == "Karen Klips, email message to author, June 21, 2018.");
    s.type = "conversation";
    s.title.clear();
    s.more = {{"recipient", "Hester Quance"}};
    CHECK(note(s) == "Karen Klips, conversation with Hester Quance, 21 June 2018.");
}

// Common practice for recordings: the place on the tape as a time. Names invented.
TEST_CASE("a recorded interview with the time in it") {
    Source s;
    s.type = "interview";
    s.title = "Interview with Ilse Kroyden, recorded by Ivor Lethering";
    s.author = "Ilse Kroyden";
    s.issued = "1979-03-14";
    s.box = "1";
    s.collection = "Lethering tapes";
    s.archive = "Pellowick Heritage Centre";
    s.place = "Pellowick";
    CHECK(note(s, "t=63,70.5") ==
          "Interview with Ilse Kroyden, recorded by Ivor Lethering, 14 March 1979, 0:01:03\u20130:01:10, box 1, "
          "Lethering tapes, Pellowick Heritage Centre.");
}

TEST_CASE("papers of the works, invented, in the Manual's order") {
    Source s;
    s.type = "memo";
    s.title = "Wrenholt to Ennersley, the grocers' plates";
    s.author = "Tobias Wrenholt";
    s.issued = "1937-11-02";
    s.box = "9";
    s.folder = "2";
    s.collection = "Skerrow company papers";
    s.archive = "Marnhaven Record Office";
    s.place = "Marnhaven";
    CHECK(note(s) ==
          "Wrenholt to Ennersley, memorandum, 2 November 1937, box 9, folder 2, Skerrow company papers, Marnhaven "
          "Record Office.");
    CHECK(brief(s) == "Wrenholt to Ennersley, 2 November 1937, Skerrow company papers.");
    CHECK(entry(s) ==
          "Wrenholt, Tobias. Memorandum to Ennersley, 2 November 1937. Box 9, folder 2. Skerrow company papers. "
          "Marnhaven Record Office.");

    Source j;
    j.type = "journal";
    j.title = "Maud Ennersley, working journal no. 2, 1931 to 1933";
    j.author = "Maud Ennersley";
    j.issued = "1931/1933";
    j.box = "3";
    j.folder = "1";
    j.collection = "Ennersley papers";
    j.archive = "Marnhaven Record Office";
    j.place = "Marnhaven";
    CHECK(to_plain(full_note(j, "page=4", "All the Fathom hollow ware is his")) ==
          "Maud Ennersley, working journal no. 2, 1931 to 1933, p. 4, box 3, folder 1, Ennersley papers, Marnhaven "
          "Record Office: "
          "\u201CAll the Fathom hollow ware is his.\u201D");
    CHECK(entry(j) ==
          "Ennersley, Maud. Working journal no. 2, 1931 to 1933. Box 3, folder 1. Ennersley papers. Marnhaven Record "
          "Office.");
    CHECK(brief(j) == "Ennersley, working journal no. 2, 1931\u20131933, Ennersley papers.");

    Source o;
    o.type = "order-book";
    o.title = "What the grocers took";
    o.issued = "1936/1944";
    o.archive = "Garrow Quay Museum";
    CHECK(note(o, "page=3,7") == "What the grocers took, order book, 1936\u20131944, pp. 3, 7, Garrow Quay Museum.");

    Source notice;
    notice.type = "trade-notice";
    notice.title = "Shown at the January fair";
    notice.issued = "1936-02";
    notice.more = {{"container-title", "The Crockery Packer"}};
    CHECK(note(notice, "page=12") == "\u201CShown at the January fair,\u201D The Crockery Packer, February 1936, 12.");

    Source cut;
    cut.type = "trade-notice";
    cut.title = "A cutting on Pinnace";
    cut.archive = "Stavenholm Public Library";
    cut.place = "Stavenholm";
    CHECK(note(cut) == "A cutting on Pinnace, trade notice, Stavenholm Public Library.");
}

// Every evidence kind that a profile or CSL-JSON can name. A piece is not dated by when it was looked at, so its entry
// gives no date.
TEST_CASE("no kind loses its date, its place or its address") {
    for (const char* type : {"letter",
                             "letters",
                             "memo",
                             "personal_communication",
                             "journal",
                             "diary",
                             "ledger",
                             "order-book",
                             "photograph",
                             "drawing",
                             "minutes",
                             "contract",
                             "price-list",
                             "notebook",
                             "manuscript",
                             "museum-record",
                             "book",
                             "guide",
                             "report",
                             "pamphlet",
                             "catalogue",
                             "sale-catalogue",
                             "article",
                             "article-journal",
                             "article-magazine",
                             "article-newspaper",
                             "trade-notice",
                             "advertisement",
                             "newspaper",
                             "periodical",
                             "obituary",
                             "chapter",
                             "thesis",
                             "web-page",
                             "webpage",
                             "interview",
                             "recording",
                             "recollection",
                             "conversation",
                             "message",
                             "hearsay",
                             "rumour",
                             "graphic",
                             "artwork",
                             "",
                             "something else"}) {
        for (const char* title : {"A title", "Orme to Quill, 4 March 1934", ""}) {
            Source s;
            s.type = type;
            s.title = title;
            s.author = "Jon Orme";
            s.issued = "1934-03-04";
            s.url = "https://example.org/1";
            INFO(type << " / " << title);
            CHECK(note(s).find("4 March 1934") != std::string::npos);
            CHECK(brief(s).size() > 4);
            CHECK(entry(s).find("4 March 1934") != std::string::npos);
            CHECK(entry(s).find("https://example.org/1") != std::string::npos);
            CHECK(entry(s).find("()") == std::string::npos);
            CHECK(entry(s).find("..") == std::string::npos);
            CHECK(entry(s).find(",,") == std::string::npos);
        }
    }
}

TEST_CASE("a source of which next to nothing is known is cited by what there is") {
    Source s;
    CHECK(note(s).empty());
    s.key = "source:x";
    s.type = "hearsay";
    CHECK(note(s) == "hearsay.");
    s.type = "something new";
    s.title = "Scrap";
    CHECK(note(s) == "Scrap.");
}

// The Manual, 14.33: titles of more than four words are shortened, a leading article goes.
TEST_CASE("short titles") {
    CHECK(short_title("The Guide") == "Guide");
    CHECK(short_title("Factory Wares of the North: A Guide for Collectors") == "Factory Wares");
    CHECK(short_title("Notes on Marks") == "Notes on Marks");
    CHECK(short_title("working journal no. 2, 1931 to 1933") == "working journal no. 2");
    CHECK(short_title("The stand at the winter fair") == "Stand");
    CHECK(short_title("Register of blocks and moulds") == "Register of blocks");
    CHECK(short_title("") == "");
}
