#include "kg/weigh/weight.h"

#include <algorithm>

namespace saggar {

std::string word_for(Method method) {
    switch (method) {
        case Method::exact: return "exact";
        case Method::sampled: return "sampled";
    }
    return {};
}

std::string word_for(ReadingShown::Role role) {
    switch (role) {
        case ReadingShown::Role::own: return "own";
        case ReadingShown::Role::copy: return "copy";
        case ReadingShown::Role::suspected: return "suspected copy";
        case ReadingShown::Role::corrected: return "taken back";
        case ReadingShown::Role::no_basis: return "no basis";
    }
    return {};
}

double Band::low() const { return std::min({independent, usual, dependent}); }
double Band::high() const { return std::max({independent, usual, dependent}); }

}  // namespace saggar
