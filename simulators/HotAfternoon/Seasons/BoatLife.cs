namespace Farberth.HotAfternoon;

/// <summary>When somebody is aboard, and when the boat is not there, over a season. All figures are invented.</summary>
/// <remarks>
/// Residents sleep aboard. On weekdays they are ashore from about 8 to 17 h; one weekday in ten they are away until the next
/// evening. On half of the weekend days they go out from about 10:30 to 16 h, on one in three of those with the boat.
/// Weekenders come on seven of ten Fridays about 19 h and stay until Sunday about 17 h, in half of them sailing on Saturday from
/// about 10 to 16:30 h; one weekday evening in ten they look in. Visitors come about 15 h for one to four nights, go ashore by
/// day, and leave about 10:30 h; the slip then waits for the next one for a day and a half in the mean.
/// </remarks>
static class BoatLife
{
    public static (IReadOnlyList<Span> Aboard, IReadOnlyList<Span> Trips) Draw(SeasonPlan plan, DateTime first, NamedRandom random)
    {
        var life = random.Unit();
        var diary = new Diary(random);
        if (life < plan.ResidentShare)
            Reside(diary, plan.Days, first, random);
        else if (life < plan.ResidentShare + plan.WeekenderShare)
            ComeOnWeekends(diary, plan.Days, first, random);
        else
            Visit(diary, first, first.AddDays(plan.Days), random);
        return (diary.Aboard, diary.Trips);
    }

    static void Reside(Diary diary, int days, DateTime first, NamedRandom random)
    {
        var since = first.AddDays(-1);
        for (var day = first; day < first.AddDays(days); day = day.AddDays(1))
        {
            var isWeekend = day.DayOfWeek is DayOfWeek.Saturday or DayOfWeek.Sunday;
            if (since >= day || (isWeekend && random.Chance(0.5)))
                continue; // still away, or stays all day
            var (away, back) = isWeekend ? (diary.About(day, 10.5, 0.75), diary.About(day, 16, 1)) : (diary.About(day, 8, 0.5), diary.About(day, 17, 1));
            diary.Stay(since, away);
            if (isWeekend && random.Chance(1.0 / 3))
                diary.Sail(away, back);
            since = !isWeekend && random.Chance(0.1) ? diary.About(day.AddDays(1), 18, 1) : back;
        }
        diary.Stay(since, first.AddDays(days + 1));
    }

    static void ComeOnWeekends(Diary diary, int days, DateTime first, NamedRandom random)
    {
        for (var day = first.AddDays(-7); day < first.AddDays(days); day = day.AddDays(1))
        {
            if (day.DayOfWeek is DayOfWeek.Tuesday or DayOfWeek.Wednesday or DayOfWeek.Thursday && random.Chance(0.1))
                diary.Stay(diary.About(day, 18, 0.75), diary.About(day, 21, 0.75));
            if (day.DayOfWeek != DayOfWeek.Friday || !random.Chance(0.7))
                continue;
            var (come, leave) = (diary.About(day, 19, 1), diary.About(day.AddDays(2), 17, 1.5));
            if (!random.Chance(0.5))
            {
                diary.Stay(come, leave);
                continue;
            }
            var (away, back) = (diary.About(day.AddDays(1), 10, 0.75), diary.About(day.AddDays(1), 16.5, 0.75));
            diary.Stay(come, away);
            diary.Sail(away, back);
            diary.Stay(back, leave);
        }
    }

    static void Visit(Diary diary, DateTime first, DateTime end, NamedRandom random)
    {
        var left = first.AddDays(-6);
        while (left < end)
        {
            var day = left.Date.AddDays(Math.Floor(random.Exponential(1.5)) + (left.Hour >= 14 ? 1 : 0));
            var come = diary.About(day, 15, 1.5);
            var leave = diary.About(day.AddDays(1 + Math.Floor(random.Between(0, 4))), 10.5, 1);
            diary.Sail(left, come);
            var since = come;
            for (var ashore = day.AddDays(1); ashore < leave.Date; ashore = ashore.AddDays(1))
            {
                diary.Stay(since, diary.About(ashore, 10, 1));
                since = diary.About(ashore, 16.5, 1);
            }
            diary.Stay(since, leave);
            left = leave;
        }
    }

    sealed class Diary(NamedRandom random)
    {
        public List<Span> Aboard { get; } = [];

        public List<Span> Trips { get; } = [];

        public void Stay(DateTime from, DateTime until) => Aboard.Add(new(from, until));

        public void Sail(DateTime from, DateTime until) => Trips.Add(new(from, until));

        /// <summary>A clock time on a day, more or less, within two standard deviations.</summary>
        public DateTime About(DateTime day, double hour, double spreadHours) =>
            day.AddMinutes(Math.Round(60 * (hour + spreadHours * Math.Clamp(random.Normal(), -2, 2))));
    }
}
