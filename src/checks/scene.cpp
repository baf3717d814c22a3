#include "checks/scene.h"

#include <utility>

namespace ohmleaf::checks {
namespace {

/// A message is a sentence: a capital first, except for the symbols r1, rn and r2.
std::string sentence(std::string text) {
  const bool symbol = text.starts_with("r1") || text.starts_with("rn") || text.starts_with("r2");
  if (!symbol && !text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace

Finding& Scene::add(Verdict verdict, Stage stage, std::string cell, std::string subject,
                    std::string message, Span span) {
  Finding& f = out_.emplace_back();
  if (info) f.check = info->id;
  f.verdict = verdict;
  f.stage = stage;
  f.circuit = index;
  f.cell = std::move(cell);
  f.subject = std::move(subject);
  f.message = sentence(std::move(message));
  f.span = span;
  if (info && verdict == Verdict::doubtful) f.confirmable = info->confirmable;
  return f;
}

}  // namespace ohmleaf::checks
