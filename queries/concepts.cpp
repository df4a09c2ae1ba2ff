#include "queries/concepts.h"

#include <algorithm>
#include <cstdint>

namespace saggar {

namespace {

class Bits {
public:
    explicit Bits(std::size_t size, bool all = false) : size_(size), words_((size + 63) / 64, all ? ~std::uint64_t{0} : 0) {
        if (all && size % 64 != 0) words_.back() = (std::uint64_t{1} << size % 64) - 1;
    }
    bool has(std::size_t i) const { return words_[i / 64] >> i % 64 & 1; }
    void set(std::size_t i) { words_[i / 64] |= std::uint64_t{1} << i % 64; }
    void clear(std::size_t i) { words_[i / 64] &= ~(std::uint64_t{1} << i % 64); }
    Bits& operator&=(const Bits& other) {
        for (std::size_t w = 0; w < words_.size(); ++w) words_[w] &= other.words_[w];
        return *this;
    }
    std::vector<std::size_t> members() const {
        std::vector<std::size_t> found;
        for (std::size_t i = 0; i < size_; ++i)
            if (has(i)) found.push_back(i);
        return found;
    }
    // Whether both have the same members among 0..end-1.
    bool same_below(std::size_t end, const Bits& other) const {
        for (std::size_t w = 0; w < end / 64; ++w)
            if (words_[w] != other.words_[w]) return false;
        if (end % 64 == 0) return true;
        const std::uint64_t mask = (std::uint64_t{1} << end % 64) - 1;
        return (words_[end / 64] & mask) == (other.words_[end / 64] & mask);
    }

private:
    std::size_t size_;
    std::vector<std::uint64_t> words_;
};

// A table of crosses, row by row and column by column.
struct Context {
    std::vector<Bits> of_row, of_column;

    Context(std::size_t rows, std::size_t columns) : of_row(rows, Bits(columns)), of_column(columns, Bits(rows)) {}

    Bits common_columns(const Bits& rows) const {
        Bits common(of_column.size(), true);
        for (const std::size_t row : rows.members()) common &= of_row[row];
        return common;
    }
    Bits common_rows(const Bits& columns) const {
        Bits common(of_row.size(), true);
        for (const std::size_t column : columns.members()) common &= of_column[column];
        return common;
    }
    Bits closure(const Bits& rows) const { return common_rows(common_columns(rows)); }
};

}  // namespace

Concepts formal_concepts(const std::vector<std::vector<std::size_t>>& features_of, std::size_t features, std::size_t most) {
    const bool by_things = features_of.size() <= features;
    const std::size_t base = by_things ? features_of.size() : features;
    Context context(base, by_things ? features : features_of.size());
    for (std::size_t thing = 0; thing < features_of.size(); ++thing) {
        for (const std::size_t feature : features_of[thing]) {
            context.of_row[by_things ? thing : feature].set(by_things ? feature : thing);
            context.of_column[by_things ? feature : thing].set(by_things ? thing : feature);
        }
    }
    Concepts answer;
    Bits now = context.closure(Bits(base));
    for (bool more = true; more;) {
        if (answer.found.size() == most) {
            answer.complete = false;
            break;
        }
        std::vector<std::size_t> rows = now.members(), columns = context.common_columns(now).members();
        Concept one;
        one.things = by_things ? std::move(rows) : std::move(columns);
        one.features = by_things ? std::move(columns) : std::move(rows);
        answer.found.push_back(std::move(one));
        // The next closed set in lectic order: the largest i not in it whose closure adds nothing before i.
        more = false;
        Bits prefix = now;
        for (std::size_t i = base; i-- > 0;) {
            if (prefix.has(i)) {
                prefix.clear(i);
                continue;
            }
            Bits tried = prefix;
            tried.set(i);
            Bits next = context.closure(tried);
            if (!next.same_below(i, prefix)) continue;
            now = std::move(next);
            more = true;
            break;
        }
    }
    std::sort(answer.found.begin(), answer.found.end(), [](const Concept& a, const Concept& b) {
        return a.things.size() != b.things.size() ? a.things.size() > b.things.size() : a.things < b.things;
    });
    return answer;
}

}  // namespace saggar
