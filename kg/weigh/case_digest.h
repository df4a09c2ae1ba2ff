// One id for everything a question read: equal ids, equal cases.
//
// A case (case.h) is all that a question's answer depends on besides the profile and how it is asked: its claims, readings,
// lists, rivals, arguments, identities, sources, copies and families, and what was looked for and not found is in it by its
// absence. So an answer kept under this id is good in any snapshot whose case has the same id, and a write that touches
// anything the question read gives another id. Cost: linear in the case, about a microsecond a kilobyte.
#pragma once

#include "kg/model/content_id.h"
#include "kg/weigh/case.h"

namespace saggar {

ContentId digest_of(const Case& question);

}  // namespace saggar
