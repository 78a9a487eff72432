using Farberth.Monitoring.Telemetry;

namespace Farberth.HotAfternoon;

/// <summary>Sends the air's temperature and humidity with a forecast of the next hours.</summary>
/// <remarks>
/// The forecast is the scenario's own curve plus one constant error, drawn once; a season's error is each day's own and smaller
/// the nearer the day (<see cref="HeatWave.ForecastErrorKelvin"/>). The reading has 0.1 K of noise.
/// </remarks>
sealed class WeatherStation
{
    readonly Scenario scenario;
    readonly HeatWave sky;
    readonly string topic;
    readonly Func<DateTime, DateTimeOffset> utc;
    readonly MessagesUnderWay arrivals;
    readonly NamedRandom random;
    readonly double forecastError;
    DateTime due;

    public WeatherStation(
        Scenario scenario, HeatWave sky, Topics topics, Func<DateTime, DateTimeOffset> utc, MessagesUnderWay arrivals)
    {
        (this.scenario, this.sky, this.utc, this.arrivals) = (scenario, sky, utc, arrivals);
        topic = topics.Weather;
        random = new NamedRandom(scenario.Seed, "weather");
        forecastError = scenario.Weather.ForecastErrorKelvin * random.Normal();
        due = scenario.Start;
    }

    public void Step(DateTime local)
    {
        if (local < due)
            return;
        due += scenario.Weather.Every;
        var message = new WireMessage(topic, Payload(local), Retain: true);
        arrivals.Add(new RecordedMessage(utc(local).AddSeconds(0.2), message));
    }

    ReadOnlyMemory<byte> Payload(DateTime local)
    {
        var now = sky.At(local);
        var celsius = now.Celsius + 0.1 * random.Normal();
        return Json.Object(writer =>
        {
            writer.WriteTime(utc(local));
            writer.WriteRounded("celsius", celsius, 1);
            writer.WriteRounded("humidity", now.Humidity, 2);
            writer.WriteStartArray("forecast");
            var hour = local.Date.AddHours(local.Hour);
            for (var ahead = 1; ahead <= scenario.Weather.ForecastHours; ahead++)
            {
                writer.WriteStartObject();
                var then = hour.AddHours(ahead);
                writer.WriteTime(utc(then));
                writer.WriteRounded("celsius", sky.At(then).Celsius + sky.ForecastErrorKelvin(local, then, forecastError), 1);
                writer.WriteEndObject();
            }
            writer.WriteEndArray();
        });
    }
}
