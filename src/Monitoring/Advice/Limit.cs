using Farberth.Grid.LoadFlow;
using Farberth.Monitoring.Alarms;

namespace Farberth.Monitoring.Advice;

/// <summary>
/// Something of the dock that must not be passed. Where it stands now is measured or estimated; of the model only the change is taken:
///   margin after = <see cref="Now"/> + model(after) − model(now).
/// </summary>
/// <param name="Id">The same from tick to tick.</param>
/// <param name="Kind">Its alarm, whose delay and deadband it shares.</param>
/// <param name="Now">How far past the limit, as a share of it; 0 or less: within.</param>
/// <param name="Model">The same of a modelled state.</param>
/// <param name="Words">What is wrong, in one sentence without its full stop.</param>
/// <param name="Outlet">The lever whose own limit it is; null: somebody's together.</param>
sealed record Limit(string Id, AlarmKind Kind, double Now, Func<Modelled, double> Model, Func<string> Words, Lever? Outlet = null);

/// <summary>A load flow with some levers down.</summary>
/// <param name="ShedAmps">By lever.</param>
sealed record Modelled(LoadFlowState State, IReadOnlyList<double> ShedAmps);
