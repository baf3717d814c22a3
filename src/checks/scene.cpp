#include "checks/scene.h"

#include <utility>

namespace ohmleaf::checks {

Finding& Scene::add(Verdict verdict, Stage stage, std::string cell, std::string subject,
                    std::string message, Span span) {
  Finding f;
  f.check = info ? std::string(info->id) : std::string();
  f.verdict = verdict;
  f.stage = stage;
  f.circuit = index;
  f.cell = std::move(cell);
  f.subject = std::move(subject);
  f.message = std::move(message);
  f.span = span;
  if (info) f.source = std::string(info->source);
  if (info && verdict == Verdict::doubtful) f.confirmable = info->confirmable;
  out_.push_back(std::move(f));
  return out_.back();
}

}  // namespace ohmleaf::checks
