#include <rapidcheck.h>
#include <rapidcheck/catch.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

#include "importers/bib_item.h"
#include "importers/bibtex_write.h"
#include "importers/csl_write.h"
#include "importers/ris_write.h"
#include "importers/tex_text.h"
#include "tests/importers/collect.h"

using namespace saggar;
using namespace saggar::test;

namespace {

template <class Writer>
std::string written(const std::vector<Source>& sources) {
    std::ostringstream out;
    Writer writer(out);
    for (const Source& source : sources) writer.put(source);
    writer.finish();
    return out.str();
}

// What is read without the checks, for made-up words that no profile knows.
std::vector<Source> read_back(const std::string& text, const std::string& name) {
    Problems problems;
    Collected collected;
    const ReadContext context{Vocabulary::standard(), ""};
    read_bytes(text, name, {}, context, collected, problems);
    INFO(text << all_problems(problems));
    CHECK(problems.list().empty());
    return collected.all<Source>();
}

std::string of(const Source& source, std::string_view name) {
    for (const auto& [key, text] : source.more) {
        if (key == name) return text;
    }
    return {};
}

rc::Gen<std::string> words() {
    return rc::gen::element<std::string>("", "Works notebook", "A & B_1 {x} 50% $3 #7 ~ ^ \\ end",
                                         "M\u00fcller \u00df \u00e9 \u2013 \u2014 \u0141", "two  blanks",
                                         "a--b ---c ``q'' 'r'", "Ennersley, Maud", "12-14", "it's", "note: more",
                                         "x and y", "\"quoted\"");
}

Source made_up_source() {
    Source source;
    source.key = "source:" + *rc::gen::element<std::string>("a", "journal-1948", "x.y_z");
    source.title = *words();
    source.type = *rc::gen::element<std::string>("", "journal", "book", "letter", "museum-record", "article");
    source.grade = *rc::gen::element<std::string>("", "works-record");
    if (*rc::gen::arbitrary<bool>()) source.reliability = 0.85;
    source.family = *words();
    if (*rc::gen::arbitrary<bool>()) source.copied_from = {{"source:notice", 0.7, 0.95}, {"source:memo", 1, 1}};
    if (*rc::gen::arbitrary<bool>()) source.tolerance_years = 5;
    source.issued = *rc::gen::element<std::string>("", "1948", "1948-03", "1948-03-02", "1935~", "1931~/1934~",
                                                   "1948-21", "2001-23", "[1950..1953]", "1948/1950", "1948?");
    source.author =
        *rc::gen::element<std::string>("", "Ennersley, Maud", "Ennersley, Maud; Skerrow Pottery", "van der Berg, Jan, Jr.; Orme, J.",
                                       "Wrenholt, T.; Kroyden, Ilse", "The Works, Office, Garrow", "Orme and Pell");
    source.archive = *words();
    source.place = *rc::gen::element<std::string>("", "Garrow Quay");
    source.collection = *words();
    source.box = *rc::gen::element<std::string>("", "3", "Box 3, folder 2");
    source.folder = *rc::gen::element<std::string>("", "7");
    source.rights = *words();
    source.url = *rc::gen::element<std::string>("", "https://example.org/a_b?c=d&e=f#g");
    source.is_private = *rc::gen::arbitrary<bool>();
    const auto more = [&](const std::string& name, const std::string& text) {
        if (!text.empty()) source.more.emplace_back(name, text);
    };
    more("container-title", *words());
    more("editor",
         *rc::gen::element<std::string>("", R"([{"family":"Orme","given":"Jon"},{"literal":"Works Office"}])"));
    more("note", *words());
    more("page", *rc::gen::element<std::string>("", "12", "12-14", "iv"));
    more("type", *rc::gen::element<std::string>("", "report", "article-journal"));
    more("volume", *rc::gen::element<std::string>("", "4"));
    more("accessed", *rc::gen::element<std::string>("", "2020-05-06", "in May"));
    more("number", *rc::gen::element<std::string>("", "US 12"));
    more("bibtex-type", *rc::gen::element<std::string>("", "mastersthesis", "suppbook"));
    more("ris-type", *rc::gen::element<std::string>("", "EDBOOK", "XYZ"));
    more("crossref", *rc::gen::element<std::string>("", "b1"));
    more("year", *rc::gen::element<std::string>("", "1950"));
    if (source.author == "van der Berg, Jan, Jr.; Orme, J.") {
        more("author", *rc::gen::element<std::string>(
                           "", R"([{"family":"Berg","given":"Jan","non-dropping-particle":"van der","suffix":"Jr."},{"family":"Orme","given":"J."}])"));
    }
    more("seen-by", *words());
    // A type that follows from the kind is not kept: say only what differs.
    return source;
}

}  // namespace

TEST_CASE("TeX becomes text", "[bibtex]") {
    // The TeXbook, chapter 9; LaTeX: A Document Preparation System, section 3.2.
    struct Row {
        std::string tex, text;
    };
    for (const Row& row :
         std::vector<Row>{{R"(S{\`e}vres)", "S\u00e8vres"},
                          {R"(S\`evres)", "S\u00e8vres"},
                          {R"({M\"{u}ller})", "M\u00fcller"},
                          {R"(M{\"u}ller)", "M\u00fcller"},
                          {R"(fran\c{c}ais, fran\c cais)", "fran\u00e7ais, fran\u00e7ais"},
                          {R"(stra{\ss}e, stra\ss e)", "stra\u00dfe, stra\u00dfe"},
                          {R"(\O rsted, K{\o}benhavn, \AA lborg)", "\u00d8rsted, K\u00f8benhavn, \u00c5lborg"},
                          {R"(na\"{\i}ve)", "na\u00efve"},
                          {R"(\v{S}koda \H{o} \r{a} \=a \.z \~n \^o \k{a})",
                           "\u0160koda \u0151 \u00e5 \u0101 \u017c \u00f1 \u00f4 \u0105"},
                          {R"(1931--34 --- so \& so \% \$ \# \_ \{ \})", "1931\u201334 \u2014 so & so % $ # _ { }"},
                          {"``quoted'' it's", "\u201cquoted\u201d it's"},
                          {"The {NASA} Book~of {{Shapes}}", "The NASA Book\u00a0of Shapes"},
                          {"two\n   lines", "two lines"},
                          {R"(\LaTeX{} \unknown{x} \unknown {\other})", "LaTeX \\unknown x \\unknown \\other"},
                          {R"(\emph{a} {\em b} \textsc{c} \textonehalf{} \pounds 3)", "a b c \u00bd \u00a33"},
                          {"\\", ""}}) {
        INFO(row.tex);
        CHECK(text_of_tex(row.tex) == row.text);
    }
    rc::prop("what is escaped reads back", [] {
        const auto text = *rc::gen::container<std::string>(
            rc::gen::element('a', ' ', '-', '\'', '`', '~', '\\', '{', '}', '&', '%', '^', '"', '\n'));
        RC_ASSERT(text_of_tex(tex_escaped(text)) == text);
    });
}

TEST_CASE("a BibTeX file", "[bibtex]") {
    const auto sources = read_back(R"bib(Free words here, even an address: somebody@example.org.
@string{ups = "University Press"}
@comment{ @book{no, title={No}} }
@preamble{"\newcommand{x}{y}"}

@article{orme1998,
  author = {Orme, Jon and Pell, Kit and {Works Office}},
  title  = "Shapes of the {North}",
  journal = {Ceramic Notes}, volume = 12, number = 3, pages = {4--19},
  year = 1998, month = mar,
  doi = {10.1000/x}, kind = {article}, grade = {later-work}, box = {3}
}
@BOOK(pell:2001, title = {A } # "Book" # { of } # 7, publisher = ups, address = {Garrow},
   editor = {Jon Orme}, date = {2001~}, mynote = {kept}, )
)bib",
                                   "b.bib");
    REQUIRE(sources.size() == 2);
    const Source& orme = sources[0];
    CHECK(orme.key == "source:orme1998");
    CHECK(orme.author == "Orme, Jon; Pell, Kit; Works Office");
    CHECK(orme.title == "Shapes of the North");
    CHECK(orme.issued == "1998-03");
    CHECK(orme.type == "article");
    CHECK(orme.grade == "later-work");
    CHECK(orme.box == "3");
    CHECK(of(orme, "container-title") == "Ceramic Notes");
    CHECK(of(orme, "volume") == "12");
    CHECK(of(orme, "issue") == "3");
    CHECK(of(orme, "page") == "4-19");
    CHECK(of(orme, "DOI") == "10.1000/x");
    const Source& pell = sources[1];
    CHECK(pell.key == "source:pell-2001");
    CHECK(of(pell, "id") == "pell:2001");
    CHECK(pell.title == "A Book of 7");
    CHECK(of(pell, "publisher") == "University Press");
    CHECK(of(pell, "publisher-place") == "Garrow");
    CHECK(of(pell, "editor") == R"([{"family":"Orme","given":"Jon"}])");
    CHECK(pell.issued == "2001~");
    CHECK(of(pell, "mynote") == "kept");
}

TEST_CASE("a RIS file", "[ris]") {
    const auto sources = read_back(
        "TY  - JOUR\r\nID  - orme1998\r\nAU  - Orme, Jon\r\nAU  - Works Office\r\nTI  - Shapes of the North\r\nT2  - "
        "Ceramic Notes\r\n"
        "VL  - 12\r\nIS  - 3\r\nSP  - 4\r\nEP  - 19\r\nDA  - 1998/03/05/\r\nSN  - 1234-5678\r\nKW  - jugs\r\nKW  - "
        "pots\r\n"
        "N1  - grade: later-work\r\nN1  - seen in the\r\nreading room\r\nER  - \r\n\r\n"
        "TY  - MANSCPT\r\nAU  - Ennersley, Maud\r\nTI  - Journal\r\nPY  - 1948\r\nAV  - Box 3\r\nER  - \r\n",
        "b.ris");
    REQUIRE(sources.size() == 2);
    const Source& orme = sources[0];
    CHECK(orme.key == "source:orme1998");
    CHECK(orme.author == "Orme, Jon; Works Office");
    CHECK(orme.issued == "1998-03-05");
    CHECK(orme.grade == "later-work");
    CHECK(of(orme, "container-title") == "Ceramic Notes");
    CHECK(of(orme, "page") == "4-19");
    CHECK(of(orme, "ISSN") == "1234-5678");
    CHECK(of(orme, "keyword") == "jugs; pots");
    CHECK(of(orme, "note") == "seen in the reading room");
    const Source& journal = sources[1];
    CHECK(journal.key == "source:ennersley-maud-1948journal");
    CHECK(journal.box == "Box 3");
    CHECK(of(journal, "type") == "manuscript");
}

TEST_CASE("any source survives CSL-JSON, BibTeX and RIS", "[bibtex][ris][csl]") {
    rc::prop("written and read", [] {
        const Source source = made_up_source();
        // "type" is told apart from what follows from the kind; the reader leaves the latter out.
        Source expected = source;
        const auto implied = [&](const auto& one) { return one.first == "type" && one.second == csl_type_of_kind(source.type); };
        expected.more.erase(std::remove_if(expected.more.begin(), expected.more.end(), implied), expected.more.end());
        std::sort(expected.more.begin(), expected.more.end());
        for (const auto& [text, name] :
             {std::pair(written<CslWriter>({source}), "b.json"), std::pair(written<BibtexWriter>({source}), "b.bib"),
              std::pair(written<RisWriter>({source}), "b.ris")}) {
            const auto back = read_back(text, name);
            RC_ASSERT(back.size() == 1u);
            const Source& got = back.front();
            if (got != expected) {
                RC_LOG() << text << "\n" << to_json_line(got) << "\n" << to_json_line(expected);
            }
            RC_ASSERT(got == expected);
        }
    });
}

TEST_CASE("CSL dates", "[csl]") {
    CHECK(csl_date_of("1948") == R"({"date-parts":[[1948]]})");
    CHECK(csl_date_of("1948-03-02") == R"({"date-parts":[[1948,3,2]]})");
    CHECK(csl_date_of("1935~") == R"({"date-parts":[[1935]],"circa":true})");
    CHECK(csl_date_of("1948/1950") == R"({"date-parts":[[1948],[1950]]})");
    CHECK(csl_date_of("1948-21") == R"({"date-parts":[[1948]],"season":1})");
    CHECK(csl_date_of("1948?") == R"({"raw":"1948?"})");
    CHECK(csl_date_of("1948/") == R"({"raw":"1948/"})");
    CHECK(csl_date_of("[1948,1950]") == R"({"raw":"[1948,1950]"})");
}

namespace {

std::vector<Source> bibtex(const std::string& text, std::size_t warnings = 0) {
    Problems problems;
    Collected collected;
    const ReadContext context{Vocabulary::standard(), ""};
    read_bytes(text, "b.bib", {}, context, collected, problems);
    INFO(text << all_problems(problems));
    CHECK(problems.errors() == 0);
    CHECK(problems.warnings() == warnings);
    return collected.all<Source>();
}

}  // namespace

// Patashnik, "BibTeXing" (1988), section 4, and the documentation of its name formats; the cases of Markey, "Tame the BeaST", section 11.
TEST_CASE("names of BibTeX have first names, particles, family names and suffixes", "[bibtex]") {
    for (const auto& [tex, author] : std::vector<std::pair<std::string, std::string>>{
             {"Maud Ennersley", "Ennersley, Maud"},
             {"Jean-Pierre van der Berg", "van der Berg, Jean-Pierre"},
             {"de la Cruz, Ana", "de la Cruz, Ana"},
             {"de la Cruz, Jr., Ana Maria", "de la Cruz, Ana Maria, Jr."},
             {"{Skerrow Pottery Company}", "Skerrow Pottery Company"},
             {"{Calloway and Dunne} and Orme, J.", "Calloway and Dunne; Orme, J."},
             {"Homer", "Homer"},
             {"Kr{\\\"o}yden, Ilse and M. {de Something}", "Kr\u00f6yden, Ilse; de Something, M."},
             {"A  B\nand\nC~D", "B, A; D, C"}}) {
        INFO(tex);
        CHECK(bibtex("@book{b, author = {" + tex + "}}").at(0).author == author);
    }
}

// Patashnik, "BibTeXing" (1988), sections 2.3 and 3.2: macros, concatenation and days beside months.
TEST_CASE("months of BibTeX by macro, name and number, with a day", "[bibtex]") {
    for (const auto& [month, issued] : std::vector<std::pair<std::string, std::string>>{
             {"jan", "1951-01"}, {"{March}", "1951-03"}, {"{sept.}", "1951-09"}, {"{3}", "1951-03"}, {"3", "1951-03"},
             {"jan # \"~15\"", "1951-01-15"}, {"\"15~\" # jul", "1951-07-15"}, {"dec # { 5}", "1951-12-05"}, {"{October 12,}", "1951-10-12"}}) {
        INFO(month);
        CHECK(bibtex("@book{b, month = " + month + ", year = 1951}").at(0).issued == issued);
    }
    CHECK(bibtex("@book{b, month = may # \"/\" # jun, year = 1951}").at(0).issued == "1951-05/1951-06");
    CHECK(bibtex("@book{b, month = {Whitsun}, year = 1951}", 1).at(0).issued.empty());
    CHECK(of(bibtex("@book{b, note = jan # { and later}}").at(0), "note") == "January and later");
}

// "The biblatex Package", section 2.1.1 and appendix B; Patashnik, "BibTeXing" (1988), section 2.2.
TEST_CASE("entries of BibTeX take what they lack from their crossref, wherever it stands", "[bibtex]") {
    const auto read = bibtex("@inbook{c1, crossref = {B1}, title = {Marks}}\n@book{b1, title = {Pots}, author = {Orme, J.}, publisher = {P}, year = 1935}\n"
                             "@incollection{c2, title = {Glazes}, year = 1936, crossref = {b1}}\n@inbook{c3, title = {X}, crossref = {none}}\n", 1);
    REQUIRE(read.size() == 4);
    CHECK(read[0].title == "Pots");
    CHECK(read[1].title == "Marks");
    CHECK(read[1].author == "Orme, J.");
    CHECK(read[1].issued == "1935");
    CHECK(of(read[1], "container-title") == "Pots");
    CHECK(of(read[1], "publisher") == "P");
    CHECK(read[2].author.empty());
    CHECK(read[2].issued == "1936");
    CHECK(read[3].title == "X");
}

TEST_CASE("fields of BibTeX that are no TeX keep their signs", "[bibtex]") {
    for (const auto& [tex, url] : std::vector<std::pair<std::string, std::string>>{
             {"http://x.example/~a_b%20c--d", "http://x.example/~a_b%20c--d"},
             {"http://x.example/\\~{}a\\_b\\%20c\\&d", "http://x.example/~a_b%20c&d"},
             {"http://x.example/{\\textasciitilde}a", "http://x.example/~a"}}) {
        INFO(tex);
        CHECK(bibtex("@online{b, url = {" + tex + "}}").at(0).url == url);
    }
    CHECK(of(bibtex("@misc{b, file = {:a~b/c_d.pdf:PDF}}").at(0), "file") == ":a~b/c_d.pdf:PDF");
}

TEST_CASE("types that CSL does not tell apart come back", "[bibtex][ris]") {
    for (const std::string type : {"mastersthesis", "manual", "proceedings", "inbook", "suppbook", "conference", "phdthesis", "booklet", "thesis", "collection"}) {
        const auto read = bibtex("@" + type + "{b, title = {T}, number = {7}}");
        const std::string out = written<BibtexWriter>({read.at(0)});
        INFO(out);
        CHECK(out.find("@" + type + "{b") == 0);
        CHECK(bibtex(out) == read);
    }
    for (const std::string type : {"EDBOOK", "CONF", "EJOUR", "UNPB", "ELEC", "CTLG", "XYZ", "BOOK", "GEN"}) {
        const auto read = read_back("TY  - " + type + "\r\nID  - b\r\nTI  - T\r\nEP  - 9\r\nY2  - 2020/05/06/\r\nER  - \r\n", "b.ris");
        const std::string out = written<RisWriter>({read.at(0)});
        INFO(out);
        CHECK(out.find("TY  - " + type + "\r\n") == 0);
        CHECK(of(read[0], "page") == "9");
        CHECK(of(read[0], "accessed") == "2020-05-06");
        CHECK(read_back(out, "b.ris") == read);
    }
}

TEST_CASE("a date that cannot be read goes through every format with a warning", "[bibtex][ris][csl]") {
    Source source;
    source.key = "source:a";
    source.more = {{"issued", "n.d."}, {"type", "book"}};
    for (const auto& [text, name] : {std::pair(written<CslWriter>({source}), "b.json"), std::pair(written<BibtexWriter>({source}), "b.bib"),
                                     std::pair(written<RisWriter>({source}), "b.ris")}) {
        Problems problems;
        Collected collected;
        const ReadContext context{Vocabulary::standard(), ""};
        read_bytes(text, name, {}, context, collected, problems);
        INFO(text << all_problems(problems));
        CHECK(problems.errors() == 0);
        CHECK(collected.only<Source>() == source);
    }
}

// Every item type and variable of the CSL-JSON schema (csl_fields.h; a test there compares them with the schema), and names and
// values under "custom" that no format has signs for.
TEST_CASE("every variable of CSL survives every format", "[bibtex][ris][csl]") {
    for (const std::string type : {"article-journal", "book", "chapter", "manuscript", "graphic", "legal_case", "post-weblog", "treaty"}) {
        std::string json = R"([{"id":"a","type":")" + type + R"(","title":"T & 5% _x","custom":{"odd field":"x","Größe":"7","nested":{"a":[1,2]},"csl-x":"y","bracketed":"[1936]","Journal":"z"})";
        for (const char* const text : {"abstract", "annote", "archive", "archive_collection", "archive_location", "archive-place", "authority", "call-number", "chapter-number",
                                       "citation-key", "container-title", "container-title-short", "dimensions", "division", "DOI", "edition", "event-place", "event-title", "genre",
                                       "ISBN", "ISSN", "issue", "jurisdiction", "keyword", "language", "license", "locator", "medium", "note", "number", "number-of-pages",
                                       "original-title", "page", "page-first", "part-number", "PMCID", "PMID", "publisher", "publisher-place", "references", "scale", "section",
                                       "shortTitle", "source", "status", "title-short", "URL", "version", "volume", "volume-title", "year-suffix"})
            json += ",\"" + std::string(text) + "\":\"" + text + " & 1-2\"";
        for (const char* const names : {"author", "chair", "collection-editor", "composer", "curator", "editor", "illustrator", "recipient", "translator"})
            json += ",\"" + std::string(names) + R"(":[{"family":"Orme","given":"Jon"},{"literal":"Works, Office & Co."},{"family":"Berg","given":"I.","non-dropping-particle":"van"}])";
        for (const char* const date : {"accessed", "available-date", "event-date", "issued", "original-date", "submitted"})
            json += ",\"" + std::string(date) + R"(":{"date-parts":[[1950],[1952,3]]})";
        const auto first = read_back(json + "}]", "b.json");
        for (const auto& [text, name] : {std::pair(written<CslWriter>(first), "b.json"), std::pair(written<BibtexWriter>(first), "b.bib"),
                                         std::pair(written<RisWriter>(first), "b.ris")}) {
            INFO(text);
            CHECK(read_back(text, name) == first);
        }
        const std::string again = written<CslWriter>(first);
        CHECK(again.find(R"("nested":{"a":[1,2]})") != std::string::npos);
        CHECK(again.find(R"("bracketed":"[1936]")") != std::string::npos);
        CHECK(again.find(R"("accessed":{"date-parts":[[1950],[1952,3]]})") != std::string::npos);
    }
}
