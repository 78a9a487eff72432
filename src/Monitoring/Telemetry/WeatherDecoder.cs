namespace Farberth.Monitoring.Telemetry;

/// <summary>Weather at the site. A bad hour of the forecast or a bad humidity is refused alone.</summary>
static class WeatherDecoder
{
    public static Weather? Decode(ref PayloadReader reader)
    {
        DateTimeOffset? time = null;
        double? celsius = null;
        double? humidity = null;
        List<ForecastHour> forecast = [];
        while (reader.NextMember())
        {
            if (reader.Is("time"u8))
                time = reader.Time(new Place("time"));
            else if (reader.Is("celsius"u8))
                celsius = reader.Number(new Place("celsius"), Plausible.AirCelsius);
            else if (reader.Is("humidity"u8))
                humidity = Humidity(ref reader);
            else if (reader.Is("forecast"u8))
                forecast = Forecast(ref reader);
            else
                reader.SkipValue();
        }
        if (time is null)
            reader.Faults.AddMissing("time");
        if (celsius is null)
            reader.Faults.AddMissing("celsius");
        return time is { } at && celsius is { } outdoor ? new Weather(at, outdoor, humidity, forecast) : null;
    }

    static double? Humidity(ref PayloadReader reader)
    {
        var place = new Place("humidity");
        if (reader.Number(place) is not { } share)
            return null;
        if (share is >= 0 and <= 1)
            return share;
        reader.Faults.Add(RefusalReason.OutOfRange, place, "must lie from 0 to 1");
        return null;
    }

    static List<ForecastHour> Forecast(ref PayloadReader reader)
    {
        List<ForecastHour> hours = [];
        if (!reader.EnterArray(new Place("forecast")))
            return hours;
        var place = new Place("hour of the forecast");
        while (reader.NextObject(place) is { } isObject)
            if (isObject && Hour(ref reader) is { } hour)
                hours.Add(hour);
        return hours;
    }

    static ForecastHour? Hour(ref PayloadReader reader)
    {
        DateTimeOffset? time = null;
        double? celsius = null;
        var faultsBefore = reader.Faults.Count;
        while (reader.NextMember())
        {
            if (reader.Is("time"u8))
                time = reader.Time(new Place("time of a forecast"));
            else if (reader.Is("celsius"u8))
                celsius = reader.Number(new Place("celsius of a forecast"), Plausible.AirCelsius);
            else
                reader.SkipValue();
        }
        if (time is { } at && celsius is { } outdoor)
            return new ForecastHour(at, outdoor);
        if (reader.Faults.Count == faultsBefore)
            reader.Faults.Add(RefusalReason.Missing, new Place("hour of the forecast"), "must have time and celsius");
        return null;
    }
}
