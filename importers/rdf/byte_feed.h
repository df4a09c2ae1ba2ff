// Bytes for the RDF parser, one at a time, under limits, with the place of what it has just read.
//
// The parser (serd) is recursive over nested brackets and gives no places of statements. So the bytes go through a small
// scanner that knows strings, IRIs and comments: it refuses nesting and tokens beyond the limits before the parser sees them,
// and remembers where the last tokens began. Cost: one call and a few comparisons a byte. Not thread-safe.
#pragma once

#include <array>
#include <cstdint>
#include <string>

#include "importers/text_input.h"

namespace saggar::rdf {

struct Spot {
    std::uint32_t line = 1;
    std::uint32_t column = 1;  // in code points
};

class ByteFeed {
public:
    static constexpr int deepest = 64;               // brackets of any sort inside each other
    static constexpr std::uint32_t lines_at_once = 20'000;
    static constexpr std::size_t longest = 4u << 20;  // bytes of one token: a literal, an IRI, a comment

    // `lines`: tokens do not matter, statements end with their line (N-Triples, N-Quads).
    ByteFeed(TextInput& input, bool lines) : input_(input), lines_(lines) {}

    // The next byte, or -1 at the end or where a limit was met.
    int next();
    // Goes on behind the present line, with a fresh scanner. False at the end of the text.
    bool skip_line();

    // A file in lines ends for the parser every 20 000 lines, for it keeps a little of every statement until its end (measured: 300
    // bytes). True, once, where that is why next() gave -1; the bytes go on with the next call.
    bool resume() {
        const bool was = paused_;
        paused_ = false;
        return was;
    }

    // Empty, or which limit was met, as the id of a problem.
    const std::string& stopped() const { return stopped_; }
    bool at_end() const { return ended_; }
    // Where the byte given last stands.
    Spot here() const { return here_; }
    // Where the token of the byte given before the last one began: what the parser has just finished.
    Spot finished_token() const;

private:
    enum class In : std::uint8_t { plain, iri, comment, string };

    void scan(char byte);
    void scan_string(char byte);
    void begin_token();
    int stop(const char* id);

    TextInput& input_;
    bool lines_;
    std::string_view window_;
    std::size_t at_ = 0;
    bool ended_ = false;
    bool fresh_line_ = false;
    bool paused_ = false;
    std::uint32_t pause_at_ = lines_at_once;
    std::string stopped_;
    Spot here_{1, 0};
    std::array<Spot, 2> tokens_{};
    std::size_t token_bytes_ = 0;
    bool in_word_ = false;
    bool ended_word_ = false;
    In in_ = In::plain;
    char quote_ = 0;
    int quotes_ = 0;        // met in a row, at the start or inside a long string
    bool opening_ = false;  // still reading the opening quotes
    bool long_ = false;
    bool escaped_ = false;
    int depth_ = 0;
};

}  // namespace saggar::rdf
