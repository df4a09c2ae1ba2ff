#include "importers/rdf/byte_feed.h"

namespace saggar::rdf {

int ByteFeed::stop(const char* id) {
    stopped_ = id;
    ended_ = true;
    return -1;
}

int ByteFeed::next() {
    if (ended_ || paused_) return -1;
    if (lines_ && fresh_line_ && here_.line >= pause_at_) {
        pause_at_ = here_.line + lines_at_once;
        paused_ = true;
        return -1;
    }
    if (at_ == window_.size()) {
        input_.consume(at_);
        at_ = 0;
        while (input_.window().empty() && input_.more()) {
        }
        window_ = input_.window();
        if (window_.empty()) {
            ended_ = true;
            ++here_.column;
            return -1;
        }
    }
    const char byte = window_[at_++];
    if (fresh_line_) {
        ++here_.line;
        here_.column = 0;
        fresh_line_ = false;
    }
    if ((static_cast<unsigned char>(byte) & 0xC0) != 0x80) ++here_.column;
    fresh_line_ = byte == '\n';
    if (byte == '\0') return stop("rdf-nul");
    scan(byte);
    if (depth_ > deepest) return stop("rdf-too-deep");
    if (token_bytes_ > longest) return stop("rdf-too-long");
    return static_cast<unsigned char>(byte);
}

bool ByteFeed::skip_line() {
    if (!stopped_.empty() && stopped_ != "rdf-too-deep") return false;
    ended_ = false;
    stopped_.clear();
    while (!fresh_line_) {
        in_ = In::plain;
        depth_ = 0;
        token_bytes_ = 0;
        if (next() < 0 && !resume() && stopped_.empty()) return false;
        ended_ = false;
        stopped_.clear();
    }
    in_ = In::plain;
    depth_ = 0;
    token_bytes_ = 0;
    in_word_ = false;
    return true;
}

Spot ByteFeed::finished_token() const { return ended_word_ || !in_word_ ? tokens_[0] : tokens_[1]; }

void ByteFeed::begin_token() {
    tokens_[1] = tokens_[0];
    tokens_[0] = here_;
    token_bytes_ = 0;
}

void ByteFeed::scan(char byte) {
    ended_word_ = false;
    ++token_bytes_;
    if (in_ == In::comment) {
        if (byte == '\n') in_ = In::plain, token_bytes_ = 0;
        return;
    }
    if (in_ == In::iri) {
        if (byte == '>' || byte == '\n') in_ = In::plain;
        return;
    }
    if (in_ == In::string) {
        scan_string(byte);
        if (in_ == In::string) return;
        if (long_ || quotes_ == 1) return;  // the byte was the closing quote
    }
    const bool blank = byte == ' ' || byte == '\t' || byte == '\n' || byte == '\r';
    const bool escaped = escaped_;
    escaped_ = !escaped && byte == '\\';
    if (escaped) return;
    if (blank) {
        ended_word_ = in_word_;
        in_word_ = false;
        token_bytes_ = 0;
        return;
    }
    if (byte == '#') {
        in_ = In::comment;
        ended_word_ = in_word_;
        in_word_ = false;
        token_bytes_ = 0;
        return;
    }
    const bool opens = byte == '[' || byte == '(' || byte == '{';
    const bool closes = byte == ']' || byte == ')' || byte == '}';
    if (opens) ++depth_;
    if (closes && depth_ > 0) --depth_;
    if (byte == '<') in_ = In::iri;
    if (byte == '"' || byte == '\'') {
        in_ = In::string;
        quote_ = byte;
        quotes_ = 1;
        opening_ = true;
        long_ = false;
    }
    const bool mark = opens || closes || byte == ',' || byte == ';';
    if (mark || !in_word_) begin_token();
    in_word_ = !mark;
}

// Short strings end at their quote or line, long ones at three quotes. "" is a string when no third quote follows.
void ByteFeed::scan_string(char byte) {
    if (escaped_) {
        escaped_ = false;
        quotes_ = 0;
        opening_ = false;
        return;
    }
    if (opening_) {
        if (byte == quote_) {
            if (++quotes_ < 3) return;
            long_ = true;
            opening_ = false;
            quotes_ = 0;
            return;
        }
        opening_ = false;
        if (quotes_ == 2) {  // the empty string, and this byte stands behind it
            in_ = In::plain;
            return;
        }
        quotes_ = 0;
    }
    if (byte == '\\') {
        escaped_ = true;
        quotes_ = 0;
    } else if (byte == quote_) {
        ++quotes_;
        if (!long_ || quotes_ == 3) in_ = In::plain;
    } else {
        quotes_ = 0;
        if (!long_ && byte == '\n') {
            in_ = In::plain;
            quotes_ = 1;
        }
    }
}

}  // namespace saggar::rdf
