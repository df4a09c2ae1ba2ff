#include "app/text/layout.h"

#include <sys/ioctl.h>
#include <unicode/uchar.h>
#include <unicode/utf8.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <string>

namespace saggar::app {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";
constexpr std::string_view ellipsis = "\xE2\x80\xA6";
constexpr std::size_t column_gap = 2;

std::size_t cells_of(UChar32 point) {
    if (point < 0) return 1;
    const auto type = u_charType(point);
    if (type == U_NON_SPACING_MARK || type == U_ENCLOSING_MARK || type == U_FORMAT_CHAR) return 0;
    const int width = u_getIntPropertyValue(point, UCHAR_EAST_ASIAN_WIDTH);
    return width == U_EA_FULLWIDTH || width == U_EA_WIDE ? 2 : 1;
}

// Calls visit(bytes of the point, point) for each code point.
template <typename Visit>
void each_point(std::string_view text, Visit visit) {
    const auto* bytes = reinterpret_cast<const uint8_t*>(text.data());
    const auto size = static_cast<int32_t>(text.size());
    for (int32_t i = 0; i < size;) {
        const int32_t from = i;
        UChar32 point;
        U8_NEXT(bytes, i, size, point);
        visit(text.substr(static_cast<std::size_t>(from), static_cast<std::size_t>(i - from)), point);
    }
}

bool is_control(UChar32 point) {
    // Direction overrides would let a label rearrange the line it stands in.
    return point < 32 || (point >= 127 && point < 160) || (point >= 0x202A && point <= 0x202E) ||
           (point >= 0x2066 && point <= 0x2069);
}

// Blanks squeezed, controls replaced; the words.
std::vector<std::string> safe_words(std::string_view text) {
    std::vector<std::string> words;
    bool inside = false;
    each_point(text, [&](std::string_view bytes, UChar32 point) {
        if (point == ' ' || point == '\n' || point == '\t' || point == '\r') {
            inside = false;
            return;
        }
        if (!inside) words.emplace_back();
        inside = true;
        words.back() += is_control(point) ? replacement : bytes;
    });
    return words;
}

std::vector<std::string> wrapped_lines(std::string_view text, std::size_t width) {
    std::vector<std::string> lines(1);
    std::size_t used = 0;
    for (const std::string& word : safe_words(text)) {
        const std::size_t size = cells(word);
        if (used > 0 && used + 1 + size > width) {
            lines.emplace_back();
            used = 0;
        }
        if (used > 0) {
            lines.back() += ' ';
            ++used;
        }
        lines.back() += word;
        used += size;
    }
    return lines;
}

// Narrows the widest columns until the row fits: those that still have room for their longest word first.
void fit(std::vector<std::size_t>& widths, const std::vector<std::size_t>& words, std::size_t width) {
    constexpr std::size_t least = 8;
    for (;;) {
        std::size_t sum = column_gap * (widths.size() - 1);
        for (const std::size_t one : widths) sum += one;
        if (sum <= width) return;
        std::size_t widest = widths.size();
        for (std::size_t i = 0; i < widths.size(); ++i) {
            const bool loose = widths[i] > std::max(words[i], least);
            if (loose && (widest == widths.size() || widths[i] > widths[widest])) widest = i;
        }
        if (widest == widths.size())
            widest = static_cast<std::size_t>(std::max_element(widths.begin(), widths.end()) - widths.begin());
        if (widths[widest] <= least) return;
        --widths[widest];
    }
}

std::size_t longest_word(std::string_view text) {
    std::size_t longest = 0;
    for (const auto& word : safe_words(text)) longest = std::max(longest, cells(word));
    return longest;
}

}  // namespace

std::string Layout::strong(std::string_view text) const {
    return colour ? "\x1b[1m" + std::string(text) + "\x1b[0m" : std::string(text);
}

std::string Layout::faint(std::string_view text) const {
    return colour ? "\x1b[2m" + std::string(text) + "\x1b[0m" : std::string(text);
}

Layout layout_of_terminal() {
    Layout layout;
    const bool terminal = ::isatty(STDOUT_FILENO) == 1;
    const char* no_colour = std::getenv("NO_COLOR");
    const char* kind = std::getenv("TERM");
    const bool plain = kind == nullptr || std::string_view(kind) == "dumb";
    layout.colour = terminal && !plain && (no_colour == nullptr || *no_colour == '\0');
    std::size_t width = 0;
    if (const char* columns = std::getenv("COLUMNS")) width = std::strtoul(columns, nullptr, 10);
    winsize size{};
    if (width == 0 && terminal && ::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) width = size.ws_col;
    if (width != 0) layout.width = std::clamp<std::size_t>(width, 60, 140);
    return layout;
}

std::size_t cells(std::string_view text) {
    std::size_t sum = 0;
    each_point(text, [&](std::string_view, UChar32 point) { sum += cells_of(point); });
    return sum;
}

std::string wrap(std::string_view text, std::size_t width, std::size_t indent) {
    std::string out;
    const std::size_t room = width > indent + 10 ? width - indent : 10;
    for (const std::string& line : wrapped_lines(text, room)) {
        if (!out.empty()) out += '\n' + std::string(indent, ' ');
        out += line;
    }
    return out;
}

std::string wrap_with_tail(std::string_view text, std::string_view tail, const Layout& layout, std::size_t indent) {
    std::string out = wrap(text, layout.width, indent);
    const auto line = out.rfind('\n');
    const std::size_t used =
        line == std::string::npos ? indent + cells(out) : cells(std::string_view(out).substr(line + 1));
    const bool fits = used + 2 + cells(tail) <= layout.width;
    return out + (fits ? "  " : "\n" + std::string(indent, ' ')) + layout.faint(tail);
}

std::string one_line(std::string_view text, std::size_t width) {
    std::string whole;
    for (const std::string& word : safe_words(text)) whole += (whole.empty() ? "" : " ") + word;
    if (cells(whole) <= width) return whole;
    std::string cut;
    std::size_t used = 0;
    each_point(whole, [&](std::string_view bytes, UChar32 point) {
        used += cells_of(point);
        if (used + 1 <= width) cut += bytes;
    });
    return cut + std::string(ellipsis);
}

std::string table(const std::vector<std::vector<std::string>>& rows, const Layout& layout, bool headed,
                  std::size_t indent) {
    if (rows.empty()) return {};
    std::vector<std::size_t> widths(rows[0].size(), 1), words(rows[0].size(), 1);
    for (const auto& row : rows) {
        for (std::size_t i = 0; i < row.size() && i < widths.size(); ++i) {
            widths[i] = std::max(widths[i], cells(one_line(row[i], 1000)));
            words[i] = std::max(words[i], longest_word(row[i]));
        }
    }
    fit(widths, words, layout.width - std::min(indent, layout.width / 2));
    std::string out;
    for (std::size_t r = 0; r < rows.size(); ++r) {
        std::vector<std::vector<std::string>> columns;
        std::size_t height = 1;
        for (std::size_t i = 0; i < widths.size(); ++i) {
            columns.push_back(wrapped_lines(i < rows[r].size() ? rows[r][i] : std::string(), widths[i]));
            height = std::max(height, columns.back().size());
        }
        for (std::size_t line = 0; line < height; ++line) {
            std::string text(indent, ' ');
            for (std::size_t i = 0; i < columns.size(); ++i) {
                const std::string part = line < columns[i].size() ? columns[i][line] : std::string();
                text += headed && r == 0 ? layout.strong(part) : part;
                const std::size_t used = cells(part);
                text += std::string((widths[i] > used ? widths[i] - used : 0) + column_gap, ' ');
            }
            text.erase(text.find_last_not_of(' ') + 1);
            out += text + '\n';
        }
        if (headed && r == 0) {
            std::string rule(indent, ' ');
            for (const std::size_t width : widths) rule += std::string(width, '-') + std::string(column_gap, ' ');
            rule.erase(rule.find_last_not_of(' ') + 1);
            out += rule + '\n';
        }
    }
    return out;
}

}  // namespace saggar::app
