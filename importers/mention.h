// Mentions: "this source speaks of that thing", from links [words](kind:slug) in notes, captions and the like.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "importers/claim_rows.h"

namespace saggar {

// Puts `source documents thing` with its evidence, where the vocabulary lets a source of this kind document a thing of
// that kind; elsewhere a link is only a link. An unknown kind is a problem, a missing source a warning.
class MentionWriter {
public:
    MentionWriter(const ReadContext& context, Sink& sink, Problems& problems)
        : context_(context), sink_(sink), problems_(problems) {}

    // `key` is a sound key. `at`: where in the source, may be empty.
    void put(const std::string& source, std::string_view key, std::string_view quote, std::string_view at,
             const Origin& origin);

private:
    const ReadContext& context_;
    Sink& sink_;
    Problems& problems_;
};

// A link in plain text.
struct TextLink {
    std::string_view words;
    std::string_view key;
    std::size_t begin = 0;  // of the opening bracket
    std::size_t end = 0;    // behind the closing parenthesis
};

// The links to keys in a text, in order. Brackets that lead to no key are plain text. Linear.
std::vector<TextLink> links_in_text(std::string_view text);

// The text with each link replaced by its words.
std::string without_links(std::string_view text, const std::vector<TextLink>& links);

}  // namespace saggar
