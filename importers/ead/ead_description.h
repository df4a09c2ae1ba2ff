// One unit of a finding aid: what its `did` and the notes beside it say, as fields of a source (see ead.h).
#pragma once

#include "importers/ead/xml_document.h"
#include "kg/model/record.h"

namespace saggar {

// Sets what the unit says; what it does not say stays as it was inherited. A date that cannot be read is a warning
// (ead-date) and kept as a field `date`.
void describe_unit(const XmlDocument& document, pugi::xml_node unit, Source& source, Problems& problems);

}  // namespace saggar
