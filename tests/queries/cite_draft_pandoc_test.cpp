// Citations of a draft against pandoc with the Chicago full-note style (Debian packages pandoc and
// citation-style-language-styles): the notes of a text that cites two invented works in every way pandoc's syntax has.
// Says so and passes where they are not installed.
#include <unistd.h>

#include <array>
#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "queries/cite_draft.h"
#include "queries/cite_notes.h"

using namespace saggar;

namespace {

const char* kStyle =
    "/usr/share/citation-style-language/styles/chicago-fullnote-bibliography-short-title-subsequent.csl";

const char* kItems = R"([
{"id":"a","type":"book","title":"Factory Wares of the North: A Guide for Collectors","title-short":"Factory Wares",
 "author":[{"family":"Quill","given":"Ada"}],"publisher":"Plain Press","publisher-place":"Leeds","issued":{"date-parts":[[1974]]}},
{"id":"b","type":"article-journal","title":"Moulds and Modellers","title-short":"Moulds and Modellers",
 "author":[{"family":"Quill","given":"Ada"},{"family":"Orme","given":"Jon"}],"container-title":"Journal of Ware",
 "volume":"12","issue":"3","page":"40-58","issued":{"date-parts":[[1981,4]]}}])";

// One citation a paragraph, so that each has its own note.
const char* const kDraft[] = {
    "A [@a, p. 4].",
    "B [see @b, pp. 41-43; @a, chap. 2, and passim].",
    "C [-@a, 5].",
    "D @b [p. 50] says so.",
    "E @a says so.",
    "F [@a, pp. 3, 7-9; also @b].",
    "G [@a and elsewhere].",
    "H [compare @a, {p. 5}, in a way].",
    "I [@b, 41 for the moulds].",
    "J [-@b].",
    "K [@a, sec. 3 on glazes].",
    "L [@a, vol. 2, p. 4].",
    "M [@a, xii].",
    "N [@b p. 44].",
    "O [@a, chapter 7].",
};

Source book() {
    Source source;
    source.key = "source:a";
    source.type = "book";
    source.title = "Factory Wares of the North: A Guide for Collectors";
    source.author = "Quill, Ada";
    source.issued = "1974";
    source.more = {{"publisher", "Plain Press"}, {"publisher-place", "Leeds"}};
    return source;
}

Source article() {
    Source source;
    source.key = "source:b";
    source.type = "article-journal";
    source.title = "Moulds and Modellers";
    source.author = "Quill, Ada; Orme, Jon";
    source.issued = "1981-04";
    source.more = {{"container-title", "Journal of Ware"}, {"issue", "3"}, {"page", "40-58"}, {"volume", "12"}};
    return source;
}

std::string draft() {
    std::string text;
    for (const char* paragraph : kDraft) text += std::string(paragraph) + "\n\n";
    return text;
}

std::string notes_by_pandoc() {
    const auto folder = std::filesystem::temp_directory_path() / ("saggar-draft-" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "items.json") << kItems;
    std::ofstream(folder / "text.md") << draft();
    const auto command = "pandoc --citeproc --csl " + std::string(kStyle) + " --bibliography '" +
                         (folder / "items.json").string() + "' '" + (folder / "text.md").string() +
                         "' -t plain --columns 400 2>/dev/null";
    std::string out;
    std::FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::array<char, 4096> buffer;
    while (const auto n = std::fread(buffer.data(), 1, buffer.size(), pipe)) {
        for (std::size_t i = 0; i < n; ++i) {
            if (buffer[i] != '_') out += buffer[i];  // plain output marks italics so
        }
    }
    pclose(pipe);
    // Pandoc binds "p." to its number with a blank that does not break.
    for (auto at = out.find("\u00A0"); at != std::string::npos; at = out.find("\u00A0", at)) out.replace(at, 2, " ");
    std::filesystem::remove_all(folder);
    return out;
}

}  // namespace

TEST_CASE("a draft's citations become the notes pandoc makes of them") {
    if (!std::filesystem::exists(kStyle) || !std::filesystem::exists("/usr/bin/pandoc")) {
        WARN("pandoc or citation-style-language-styles is not installed: nothing was compared");
        return;
    }
    const auto expected = notes_by_pandoc();
    CiteStyle style;
    style.dates = DateOrder::month_day;
    Notes notes(style);
    const auto mentions = mentions_in_draft(draft());
    REQUIRE(mentions.size() == std::size(kDraft));
    for (std::size_t i = 0; i < mentions.size(); ++i) {
        std::vector<NotePart> parts;
        for (const auto& part : mentions[i].parts) {
            parts.push_back({part.name == "source:a" ? book() : article(), part.at, part.prefix, part.suffix,
                             part.without_author});
        }
        const auto text = to_plain(notes.texts().at(static_cast<std::size_t>(notes.number_of(parts)) - 1));
        INFO(kDraft[i]);
        INFO(expected);
        CHECK_THAT(expected, Catch::Matchers::Contains("[" + std::to_string(i + 1) + "] " + text + "\n"));
    }
}
