#include "viz/text/wrap.h"

#include <unicode/brkiter.h>
#include <unicode/unistr.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "kg/model/fault.h"

namespace saggar::viz {

namespace {

constexpr double kRounding = 1e-6;  // sums of widths in another order differ by this at most

using Breaks = std::unique_ptr<icu::BreakIterator>;

using Maker = icu::BreakIterator* (*)(const icu::Locale&, UErrorCode&);

Breaks make_breaks(Maker make) {
    UErrorCode status = U_ZERO_ERROR;
    Breaks breaks(make(icu::Locale::getRoot(), status));
    if (U_FAILURE(status))
        throw Fault("the Unicode data of ICU cannot be read", "install the ICU library of the system again (libicu72)");
    return breaks;
}

Breaks line_breaks() { return make_breaks(icu::BreakIterator::createLineInstance); }
Breaks sign_breaks() { return make_breaks(icu::BreakIterator::createCharacterInstance); }

std::string utf8(const icu::UnicodeString& text) {
    std::string out;
    text.toUTF8String(out);
    return out;
}

class LineFiller {
public:
    LineFiller(double max_width, double size, Face face) : max_width_(max_width), size_(size), face_(face) {}

    // A piece that ends at an allowed break; it may end in blanks, which do not count at a line end.
    void add(const icu::UnicodeString& piece) {
        icu::UnicodeString bare(piece);
        while (bare.endsWith(u" ", 1)) bare.truncate(bare.length() - 1);
        const double bare_width = width(bare);
        if (line_width_ > 0 && line_width_ + bare_width > max_width_ + kRounding) end_line();
        if (bare_width > max_width_) return add_long(bare, piece.length() > bare.length());
        line_ += piece;
        line_width_ += width(piece);
    }

    std::vector<std::string> finish() {
        if (!line_.isEmpty() || lines_.empty()) end_line();
        return std::move(lines_);
    }

private:
    double width(const icu::UnicodeString& text) const { return text_width(utf8(text), size_, face_); }

    void add_long(const icu::UnicodeString& word, bool blank_follows) {
        const auto signs = sign_breaks();
        signs->setText(word);
        for (auto start = signs->first(), end = signs->next(); end != icu::BreakIterator::DONE;
             start = end, end = signs->next()) {
            const icu::UnicodeString sign(word, start, end - start);
            const double w = width(sign);
            if (line_width_ > 0 && line_width_ + w > max_width_ + kRounding) end_line();
            line_ += sign;
            line_width_ += w;
        }
        if (!blank_follows) return;
        line_ += u' ';
        line_width_ += width(icu::UnicodeString(u" "));
    }

    void end_line() {
        line_.trim();
        lines_.push_back(utf8(line_));
        line_.remove();
        line_width_ = 0;
    }

    double max_width_, size_;
    Face face_;
    icu::UnicodeString line_;
    double line_width_ = 0;
    std::vector<std::string> lines_;
};

// Takes signs off the end of `line` until it fits with an ellipsis.
std::string with_ellipsis(const std::string& line, double max_width, double size, Face face) {
    auto text = icu::UnicodeString::fromUTF8(line);
    const auto signs = sign_breaks();
    signs->setText(text);
    auto end = signs->last();
    while (end > 0 && text_width(utf8(icu::UnicodeString(text, 0, end)) + "\u2026", size, face) > max_width)
        end = signs->previous();
    return utf8(icu::UnicodeString(text, 0, std::max(end, 0))) + "\u2026";
}

}  // namespace

Wrapped wrap(std::string_view text, double max_width, double size, Face face, std::size_t max_lines) {
    const auto whole =
        icu::UnicodeString::fromUTF8(icu::StringPiece(text.data(), static_cast<std::int32_t>(text.size())));
    LineFiller filler(max_width, size, face);
    const auto breaks = line_breaks();
    breaks->setText(whole);
    for (auto start = breaks->first(), end = breaks->next(); end != icu::BreakIterator::DONE;
         start = end, end = breaks->next()) {
        filler.add(icu::UnicodeString(whole, start, end - start));
    }
    Wrapped result;
    result.lines = filler.finish();
    if (max_lines > 0 && result.lines.size() > max_lines) {
        result.lines.resize(max_lines);
        result.lines.back() = with_ellipsis(result.lines.back(), max_width, size, face);
        result.cut = true;
    }
    for (const auto& line : result.lines) result.width = std::max(result.width, text_width(line, size, face));
    return result;
}

Wrapped wrap_block(std::string_view text, double min_width, double max_width, double ratio, double size,
                   double line_height, Face face, std::size_t max_lines) {
    const double area = text_width(text, size, face) * line_height;
    const double wanted = std::clamp(std::sqrt(area * ratio), min_width, max_width);
    return wrap(text, wanted, size, face, max_lines);
}

}  // namespace saggar::viz
