#include "viz/figures.h"

#include "kg/weigh/profile.h"
#include "kg/weigh/weigher.h"

namespace saggar::viz {

FigureOf figures_of(Weigher& weigher) {
    return [&weigher](ClaimRef claim) {
        const Masses masses = weigher.masses(claim);
        const Clarity clarity = clarity_of(masses.both, weigher.profile());
        Figure figure;
        figure.disputed = clarity != Clarity::clear;
        if (clarity == Clarity::clear || clarity == Clarity::contested) figure.support = masses.support();
        return figure;
    };
}

}  // namespace saggar::viz
