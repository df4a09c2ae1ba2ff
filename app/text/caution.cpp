#include "app/text/caution.h"

#include "viz/draft.h"

namespace saggar::app {

void write_caution(Call& call) { *call.out << "! " << wrap(viz::kGlazeCaution, call.layout.width, 2) << '\n'; }

}  // namespace saggar::app
