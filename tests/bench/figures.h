// Named numbers that one measurement hands to the program that writes the table: lines of "name value".
#pragma once

#include <iostream>
#include <map>
#include <sstream>
#include <string>

namespace saggar::bench {

using Numbers = std::map<std::string, double>;

inline void print(const Numbers& numbers) {
    std::cout.precision(9);
    for (const auto& number : numbers) std::cout << number.first << ' ' << number.second << '\n';
}

inline Numbers read_numbers(const std::string& text) {
    Numbers numbers;
    std::istringstream lines(text);
    std::string name;
    for (double value; lines >> name >> value;) numbers[name] = value;
    return numbers;
}

}  // namespace saggar::bench
