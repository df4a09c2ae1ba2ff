// Printed sources against pandoc with the Chicago full-note style of the Citation Style Language project (Debian
// packages pandoc and citation-style-language-styles). Says so and passes where they are not installed. All works are
// invented; titles are in headline case, because that style changes the case of titles and we keep them as written;
// the style takes the short titles from the data, and they are those the Manual's rule (14.33) gives.
#include <unistd.h>
#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "queries/cite.h"

using namespace saggar;

namespace {

const char* kStyle =
    "/usr/share/citation-style-language/styles/chicago-fullnote-bibliography-short-title-subsequent.csl";

const char* kItems = R"([
{"id":"a","type":"book","title":"Factory Wares of the North: A Guide for Collectors","title-short":"Factory Wares","author":[{"family":"Quill","given":"Ada"}],
 "publisher":"Plain Press","publisher-place":"Leeds","issued":{"date-parts":[[1974]]}},
{"id":"b","type":"article-journal","title":"Moulds and Modellers","title-short":"Moulds and Modellers","author":[{"family":"Quill","given":"Ada"},{"family":"Orme","given":"Jon"}],
 "container-title":"Journal of Ware","volume":"12","issue":"3","page":"40-58","issued":{"date-parts":[[1981,4]]}},
{"id":"c","type":"article-magazine","title":"New Wares for the Grocery Trade","title-short":"New Wares","container-title":"Crockery Packer","author":[{"family":"Pell","given":"Kit"}],
 "issued":{"date-parts":[[1934,6]]}},
{"id":"d","type":"chapter","title":"The Grocers","title-short":"Grocers","author":[{"family":"Quill","given":"Ada"}],"editor":[{"family":"Orme","given":"Jon"}],
 "container-title":"Ware and Trade","publisher":"Plain Press","publisher-place":"Leeds","page":"10-20","issued":{"date-parts":[[1990]]}},
{"id":"e","type":"thesis","title":"The Art of the Modeller","title-short":"Art of the Modeller","author":[{"family":"Orme","given":"Jon"}],"genre":"PhD diss.",
 "publisher":"University of Ostby","issued":{"date-parts":[[1999]]}},
{"id":"f","type":"webpage","title":"Notes on Marks","title-short":"Notes on Marks","author":[{"family":"Orme","given":"Jon"}],"container-title":"Ware Pages",
 "URL":"https://example.org/marks","accessed":{"date-parts":[[2021,5,3]]}},
{"id":"g","type":"article-newspaper","title":"Pottery to Close","title-short":"Pottery to Close","author":[{"family":"Rusk","given":"Eve"}],"container-title":"Garrow Quay Echo",
 "issued":{"date-parts":[[1968,6,2]]}},
{"id":"h","type":"book","edition":"2","title":"The Guide","title-short":"Guide","author":[{"family":"Quill","given":"Ada"},{"family":"Orme","given":"Jon"},
 {"family":"Pell","given":"Kit"},{"family":"Rusk","given":"Eve"}],"publisher":"Plain Press","publisher-place":"Leeds","issued":{"date-parts":[[1975]]}},
{"id":"k","type":"book","title":"Two Hundred Pieces","title-short":"Two Hundred Pieces","author":[{"family":"Sale","given":"Ben"}],
 "publisher":"Sale & Sons","publisher-place":"Ostby","issued":{"date-parts":[[1992]]}},
{"id":"l","type":"article-newspaper","title":"Maud Orme","title-short":"Maud Orme","author":[{"family":"Quill","given":"Ada"}],"container-title":"Garrow Quay Echo",
 "issued":{"date-parts":[[1971,5,9]]}}
])";

struct Case {
    Source source;
    std::string page;
};

Case one(std::string id, std::string type, std::string title, std::string author, std::string issued, std::string page,
         std::vector<std::pair<std::string, std::string>> more) {
    Case result;
    result.source.key = "source:" + id;
    result.source.type = std::move(type);
    result.source.title = std::move(title);
    result.source.author = std::move(author);
    result.source.issued = std::move(issued);
    result.source.more = std::move(more);
    result.page = std::move(page);
    return result;
}

std::vector<Case> cases() {
    std::vector<Case> all = {
        one("a", "book", "Factory Wares of the North: A Guide for Collectors", "Quill, Ada", "1974", "12",
            {{"publisher", "Plain Press"}, {"publisher-place", "Leeds"}}),
        one("b", "article-journal", "Moulds and Modellers", "Quill, Ada; Orme, Jon", "1981-04", "41",
            {{"container-title", "Journal of Ware"}, {"issue", "3"}, {"page", "40-58"}, {"volume", "12"}}),
        one("c", "article-magazine", "New Wares for the Grocery Trade", "Pell, Kit", "1934-06", "8",
            {{"container-title", "Crockery Packer"}}),
        one("d", "chapter", "The Grocers", "Quill, Ada", "1990", "11",
            {{"container-title", "Ware and Trade"},
             {"editor", "Orme, Jon"},
             {"page", "10-20"},
             {"publisher", "Plain Press"},
             {"publisher-place", "Leeds"}}),
        one("e", "thesis", "The Art of the Modeller", "Orme, Jon", "1999", "9",
            {{"genre", "PhD diss."}, {"publisher", "University of Ostby"}}),
        one("f", "web-page", "Notes on Marks", "Orme, Jon", "", "",
            {{"accessed", "2021-05-03"}, {"container-title", "Ware Pages"}}),
        one("g", "newspaper", "Pottery to Close", "Rusk, Eve", "1968-06-02", "3",
            {{"container-title", "Garrow Quay Echo"}}),
        one("h", "guide", "The Guide", "Quill, Ada; Orme, Jon; Pell, Kit; Rusk, Eve", "1975", "7",
            {{"edition", "2"}, {"publisher", "Plain Press"}, {"publisher-place", "Leeds"}}),
        one("k", "sale-catalogue", "Two Hundred Pieces", "Sale, Ben", "1992", "8",
            {{"publisher", "Sale & Sons"}, {"publisher-place", "Ostby"}}),
        one("l", "obituary", "Maud Orme", "Quill, Ada", "1971-05-09", "2", {{"container-title", "Garrow Quay Echo"}}),
    };
    all[5].source.url = "https://example.org/marks";
    return all;
}

std::string run_pandoc() {
    const auto folder = std::filesystem::temp_directory_path() / ("saggar-cite-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "items.json") << kItems;
    std::ofstream text(folder / "text.md");
    for (const auto& c : cases()) {
        const auto id = c.source.key.substr(7);
        text << "[@" << id << (c.page.empty() ? "" : ", p. " + c.page) << "]\n\n";
        text << "[@" << id << (c.page.empty() ? "" : ", p. " + c.page) << "]\n\n";
    }
    text.close();
    const auto command = "pandoc --citeproc --csl " + std::string(kStyle) + " --bibliography '" +
                         (folder / "items.json").string() + "' '" + (folder / "text.md").string() +
                         "' -t plain --columns 400 2>/dev/null";
    std::string out;
    std::FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> buffer;
    while (const auto n = std::fread(buffer.data(), 1, buffer.size(), pipe)) out.append(buffer.data(), n);
    pclose(pipe);
    std::filesystem::remove_all(folder);
    return out;
}

bool has_pandoc() { return std::filesystem::exists(kStyle) && std::filesystem::exists("/usr/bin/pandoc"); }

// Plain output of pandoc marks italics with underscores and addresses with angle brackets.
std::string plain(std::string text) {
    std::string out;
    for (const char c : text) {
        if (c != '_' && c != '<' && c != '>') out += c;
    }
    return out;
}

}  // namespace

TEST_CASE("printed sources are cited as pandoc cites them") {
    if (!has_pandoc()) {
        WARN("pandoc or citation-style-language-styles is not installed: nothing was compared");
        return;
    }
    const auto output = plain(run_pandoc());
    CiteStyle style;
    style.dates = DateOrder::month_day;
    for (const auto& c : cases()) {
        const auto at = c.page.empty() ? std::string() : "page=" + c.page;
        INFO(output);
        CHECK_THAT(output, Catch::Matchers::Contains("] " + to_plain(full_note(c.source, at, {}, style)) + "\n"));
        CHECK_THAT(output, Catch::Matchers::Contains("] " + to_plain(short_note(c.source, at, {}, style)) + "\n"));
    }
    // Entries; repeated authors are dashes in pandoc's list, so only the part after the author is compared.
    for (const auto& c : cases()) {
        const auto entry = to_plain(bibliography_entry(c.source, style));
        const auto after = entry.substr(entry.find(". ") + 2);
        CHECK_THAT(output, Catch::Matchers::Contains(after + "\n"));
    }
}
