// Eight numbers side by side: the same walk for eight outcomes at once.
#pragma once

#include <array>
#include <cstddef>

namespace saggar::weighing {

struct Lanes {
    static constexpr std::size_t count = 8;
    std::array<double, count> of{};

    Lanes() = default;
    Lanes(double all) { of.fill(all); }  // a number stands for itself in every lane

    Lanes& operator+=(const Lanes& b) {
        for (std::size_t i = 0; i < count; ++i) of[i] += b.of[i];
        return *this;
    }
    Lanes& operator*=(const Lanes& b) {
        for (std::size_t i = 0; i < count; ++i) of[i] *= b.of[i];
        return *this;
    }
    friend Lanes operator+(Lanes a, const Lanes& b) { return a += b; }
    friend Lanes operator*(Lanes a, const Lanes& b) { return a *= b; }
    friend Lanes operator-(const Lanes& a, const Lanes& b) {
        Lanes c;
        for (std::size_t i = 0; i < count; ++i) c.of[i] = a.of[i] - b.of[i];
        return c;
    }
    friend Lanes operator-(const Lanes& a) { return Lanes(0) - a; }
};

inline double sum(double value) { return value; }
inline double sum(const Lanes& value) {
    double total = 0;
    for (const double one : value.of) total += one;
    return total;
}

}  // namespace saggar::weighing
